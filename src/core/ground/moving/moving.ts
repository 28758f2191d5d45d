/** In which steps the bike moved under its rider. */
import { msOf, secondsIn } from '../../../units.js';
import type { StepDistances } from '../samples/distance.js';
import type { Plane } from '../samples/ellipsoid.js';
import { type ShiftSpeeds, shiftSpeeds } from '../samples/shift.js';
import type { KeptSamples } from '../samples/steps.js';

/** What a step is: a halt, moving, or too long to be believed; 0 where a span begins and no step leads. */
export const HALT = 1;
export const MOVING = 2;
export const GAP = 3;

/** Moving begins above the first and ends below the second, around 0.5 m/s. Units: m/s. */
const SETS_OFF_MPS = 0.6;
const HALTS_MPS = 0.4;
/** The threshold itself, where a step stands alone. */
export const MOVING_MPS = 0.5;
/** A receiver at rest drifts less than this over some seconds, however it jumps from one second to the next. */
const SURELY_MOVING_MPS = 1.5;
/** Longer steps count by their own mean speed; a device's speed holds for the moment, not for the step. */
const MOMENT_S = 10;
/** Longer steps need more speed, and still longer ones never count. */
const LONG_STEP_S = 60;
const LONG_STEP_MPS = 2;
const LONGEST_STEP_S = 300;
/** Receivers lose a step now and then: a halt this short inside moving is none. */
const SHORTEST_HALT_S = 3;
/** Whoever pushes a bicycle goes no faster than positions jitter: only the long mean tells a walk from a halt. */
const WALK_HALT_S = 7;

/**
 * Returns what each step is. A step of up to 10 s counts by the device's speed, else by how far the bike came; up to
 * 60 s by its own mean speed; up to 300 s from a mean of 2 m/s; longer never.
 * With positions alone, the way between means of positions decides, since a resting receiver jumps about its place
 * but stays there.
 */
export function movingSteps(kept: KeptSamples, distances: StepDistances, plane: Plane): Uint8Array {
  const { count, timeMs, begins } = kept;
  const { stepM, speedMps, source } = distances;
  const states = new Uint8Array(count);
  const jitters = source === 'positions' ? shiftSpeeds(kept, plane) : null;
  let moving = false;
  for (let i = 1; i < count; i++) {
    if (begins[i] === 1) {
      moving = false;
      continue;
    }
    const s = secondsIn(timeMs[i]! - timeMs[i - 1]!);
    const meanMps = stepM[i]! / s;
    if (s > LONG_STEP_S) {
      moving = meanMps >= LONG_STEP_MPS && s <= LONGEST_STEP_S;
      states[i] = moving ? MOVING : meanMps < MOVING_MPS && s <= LONGEST_STEP_S ? HALT : GAP;
      continue;
    }
    const v = s <= MOMENT_S ? speedMps[i]! : Number.NaN;
    if (!Number.isNaN(v)) moving = v >= (moving ? HALTS_MPS : SETS_OFF_MPS);
    else if (jitters === null) moving = meanMps >= (moving ? HALTS_MPS : SETS_OFF_MPS);
    else moving = meanMps >= MOVING_MPS && isGoing(jitters, i, moving);
    states[i] = moving ? MOVING : HALT;
  }
  if (jitters !== null) {
    const walks = (k: number): boolean => {
      const mps = jitters.longMps(k);
      return mps >= MOVING_MPS && mps < SURELY_MOVING_MPS;
    };
    bridgeHalts(kept, states, SHORTEST_HALT_S, (k) => isGoing(jitters, k, true));
    bridgeHalts(kept, states, WALK_HALT_S, (_, from, to) => areAll(from, to, walks));
  }
  return states;
}

/** Returns every step as moving, where nothing but the timer or the order of points is known; long ones as gaps. */
export function everyStep({ count, timeMs, begins }: KeptSamples): Uint8Array {
  const states = new Uint8Array(count);
  for (let i = 1; i < count; i++) {
    const tooLong = timeMs[i]! - timeMs[i - 1]! > msOf(LONGEST_STEP_S);
    if (begins[i] === 0) states[i] = tooLong ? GAP : MOVING;
  }
  return states;
}

/** Once going, a hairpin may bring the long mean back to where it was. */
function isGoing({ shortMps, longMps }: ShiftSpeeds, step: number, wasMoving: boolean): boolean {
  const mps = shortMps(step);
  return mps >= SURELY_MOVING_MPS || (mps >= MOVING_MPS && (wasMoving || longMps(step) >= MOVING_MPS));
}

/** A step may fall back on its place while the bike goes on. */
function bridgeHalts(
  { count, timeMs }: KeptSamples,
  states: Uint8Array,
  shortestS: number,
  goes: (k: number, from: number, to: number) => boolean,
): void {
  let lastMoving = -1;
  for (let i = 1; i < count; i++) {
    if (states[i] === HALT) continue;
    if (states[i] === MOVING && lastMoving >= 0 && lastMoving < i - 1) {
      const haltMs = timeMs[i - 1]! - timeMs[lastMoving]!;
      if (haltMs < msOf(shortestS))
        for (let k = lastMoving + 1; k < i; k++) if (goes(k, lastMoving, i)) states[k] = MOVING;
    }
    lastMoving = states[i] === MOVING ? i : -1;
  }
}

function areAll(from: number, to: number, is: (k: number) => boolean): boolean {
  for (let k = from; k <= to; k++) if (!is(k)) return false;
  return true;
}
