/** How far each step led, and which of the recorder's columns can be relied on for it. */

import { KILOMETRE_M, KMH_IN_MPS, metresOfKm, msOf, secondsIn } from '../../../units.js';
import { isMissing } from './missing.js';
import { notesOf } from './notes.js';
import type { Note } from './recording.js';
import type { KeptSamples } from './steps.js';

type DistanceSource = 'device' | 'positions' | 'speed' | 'none';

/** Units: metres a step, NaN where unknown, 0 where no step leads; m/s, NaN where missing or not to be relied on. */
export interface StepDistances {
  readonly stepM: Float64Array;
  readonly speedMps: Float64Array;
  readonly source: DistanceSource;
  readonly notes: readonly Note[];
}

/** Two measures of one way agree within this ratio: wheel sizes and cut corners stay inside, other units do not. */
const AGREES = 1.33;
/** A speed column that is off by more than this has stopped or stands for something else. */
const SPEED_AGREES = 2;
/** Less way than this settles nothing. */
const ENOUGH_M = 200;
/** Device speeds are sums of the way only over steps as short as this. */
const SHORT_STEP_S = 10;
/** Steps longer than this never count, so they settle nothing either. */
const LONG_STEP_S = 60;
/** Faster steps, out of slow ones, are faults of the counter. */
const JUMP_MPS = 40;
/** So few steps backward are glitches; more, and it is no counter of distance. */
const BACKWARD_SHARE = 0.01;

/**
 * Returns the metres of each step: the device's where its distance rises and agrees with its speed or the positions,
 * else those between positions, else speed times time. A step that lacks one measure falls to the next.
 */
export function stepDistances(kept: KeptSamples): StepDistances {
  const device = deviceSteps(kept);
  const sums = sumsOf(kept, device.stepM);
  const deviceScale = scaleOfDevice(sums);
  const sound = deviceScale > 0 && device.backward <= BACKWARD_SHARE * device.measured;
  const speedScale = scaleOfSpeed(sums, sound ? deviceScale : 0);
  const speedMps =
    speedScale === 1 ? kept.speedMps : kept.speedMps.map((v) => v * (speedScale || Number.NaN));

  const { stepM, jumps } = chooseSteps(kept, sound ? device.stepM : null, deviceScale, speedMps);
  const source: DistanceSource = sound
    ? 'device'
    : sums.positions > 0
      ? 'positions'
      : sums.speed > 0 && speedScale > 0
        ? 'speed'
        : 'none';
  const notes = notesOf({
    'distance-backwards': device.backward,
    'distance-unsound': device.measured > 0 && !sound ? 1 : 0,
    'distance-unit': sound && deviceScale !== 1 ? 1 : 0,
    'distance-jump': jumps,
    'speed-unsound': sums.speedSamples > 0 && speedScale === 0 ? 1 : 0,
    'speed-unit': speedScale !== 0 && speedScale !== 1 ? 1 : 0,
  });
  return { stepM, speedMps, source, notes };
}

/** Differences of the distance column; short holes in it are put on a straight line. */
function deviceSteps({ count, timeMs, distM, begins }: KeptSamples) {
  if (isMissing(distM)) return { stepM: null, backward: 0, measured: 0 };
  const stepM = new Float64Array(count).fill(Number.NaN);
  let backward = 0;
  let measured = 0;
  let last = -1;
  for (let i = 0; i < count; i++) {
    if (begins[i] === 1) last = -1;
    if (Number.isNaN(distM[i]!)) continue;
    if (last >= 0) {
      const metres = distM[i]! - distM[last]!;
      const ms = timeMs[i]! - timeMs[last]!;
      measured += 1;
      if (metres < 0) backward += 1;
      else if (last === i - 1) stepM[i] = metres;
      else if (ms <= msOf(SHORT_STEP_S))
        for (let k = last + 1; k <= i; k++) stepM[k] = (metres * (timeMs[k]! - timeMs[k - 1]!)) / ms;
    }
    last = i;
  }
  return { stepM, backward, measured };
}

/** One way by two measures, over the steps that have both. Units: metres. */
interface TwoWays {
  readonly one: number;
  readonly other: number;
}

interface DistanceSums {
  readonly device: number;
  readonly positions: number;
  readonly speed: number;
  readonly speedSamples: number;
  readonly deviceByPositions: TwoWays;
  readonly deviceBySpeed: TwoWays;
  readonly positionsBySpeed: TwoWays;
}

function sumsOf(
  { count, timeMs, speedMps, begins, hopM }: KeptSamples,
  deviceM: Float64Array | null,
): DistanceSums {
  let [device, positions, speed, speedSamples] = [0, 0, 0, 0];
  let [deviceAtHops, hopsAtDevice, deviceAtSpeeds, speedAtDevice, hopsAtSpeeds, speedAtHops] = [
    0, 0, 0, 0, 0, 0,
  ];
  for (let i = 1; i < count; i++) {
    const s = secondsIn(timeMs[i]! - timeMs[i - 1]!);
    if (begins[i] === 1 || s > LONG_STEP_S) continue;
    const byDevice = deviceM === null ? Number.NaN : deviceM[i]!;
    const byHop = hopM[i]!;
    const bySpeed = s <= SHORT_STEP_S ? ((speedMps[i]! + speedMps[i - 1]!) / 2) * s : Number.NaN;
    const hasDevice = !Number.isNaN(byDevice);
    const hasHop = !Number.isNaN(byHop);
    const hasSpeed = !Number.isNaN(bySpeed);
    if (hasDevice) device += byDevice;
    if (hasHop) positions += byHop;
    if (hasSpeed) {
      speed += bySpeed;
      speedSamples += 1;
    }
    if (hasDevice && hasHop) {
      deviceAtHops += byDevice;
      hopsAtDevice += byHop;
    }
    if (hasDevice && hasSpeed) {
      deviceAtSpeeds += byDevice;
      speedAtDevice += bySpeed;
    }
    if (hasHop && hasSpeed) {
      hopsAtSpeeds += byHop;
      speedAtHops += bySpeed;
    }
  }
  return {
    device,
    positions,
    speed,
    speedSamples,
    deviceByPositions: { one: deviceAtHops, other: hopsAtDevice },
    deviceBySpeed: { one: deviceAtSpeeds, other: speedAtDevice },
    positionsBySpeed: { one: hopsAtSpeeds, other: speedAtHops },
  };
}

const within = (ratio: number, limit: number): boolean => ratio <= limit && ratio >= 1 / limit;

/** Returns what the device's distance must be multiplied by: 1, 1000 where it plainly holds kilometres, 0 where it is unsound. */
function scaleOfDevice({ device, deviceByPositions, deviceBySpeed }: DistanceSums): number {
  if (device <= 0) return 0;
  const { one: devicePart, other: positions } = deviceByPositions;
  const { one: deviceSpeedPart, other: speed } = deviceBySpeed;
  const settledByPositions = positions >= ENOUGH_M;
  const settledBySpeed = speed >= ENOUGH_M;
  if (settledBySpeed && within(deviceSpeedPart / speed, AGREES)) return 1;
  if (settledByPositions && within(devicePart / positions, AGREES)) return 1;
  if (settledByPositions && within(metresOfKm(devicePart) / positions, AGREES)) return KILOMETRE_M;
  return settledByPositions || settledBySpeed ? 0 : 1;
}

/** Returns what the speeds must be multiplied by: 1, 1/3.6 where they plainly are km/h, 0 where they are unsound. */
function scaleOfSpeed(
  { deviceBySpeed, positionsBySpeed, speedSamples }: DistanceSums,
  deviceScale: number,
): number {
  if (speedSamples === 0) return 1;
  const { one, other: speed } = deviceScale > 0 ? deviceBySpeed : positionsBySpeed;
  const way = deviceScale > 0 ? one * deviceScale : one;
  if (Math.max(way, speed) < ENOUGH_M) return 1;
  if (way === 0) return deviceScale > 0 || positionsBySpeed.one > 0 ? 0 : 1;
  if (within(speed / KMH_IN_MPS / way, 1.1)) return 1 / KMH_IN_MPS;
  return within(speed / way, SPEED_AGREES) ? 1 : 0;
}

function chooseSteps(
  { count, timeMs, begins, hopM }: KeptSamples,
  deviceM: Float64Array | null,
  deviceScale: number,
  speedMps: Float64Array,
): { readonly stepM: Float64Array; readonly jumps: number } {
  const stepM = new Float64Array(count);
  let jumps = 0;
  let lastMps = 0;
  let stoodS = 0;
  for (let i = 1; i < count; i++) {
    if (begins[i] === 1) {
      stoodS = 0;
      continue;
    }
    const s = secondsIn(timeMs[i]! - timeMs[i - 1]!);
    const v = speedMps[i]!;
    const bySpeed =
      s > LONG_STEP_S
        ? Number.NaN
        : Number.isNaN(speedMps[i - 1]!)
          ? v * s
          : ((v + speedMps[i - 1]!) / 2) * s;
    const other = Number.isNaN(hopM[i]!) ? bySpeed : hopM[i]!;
    const byDevice = deviceM === null ? Number.NaN : deviceM[i]! * deviceScale;
    const witness = Number.isNaN(other) ? lastMps : other / s;
    // A slow sensor's counter stands for some seconds and then catches up, which is no jump.
    const isJump = byDevice > JUMP_MPS * (s + Math.min(stoodS, SHORT_STEP_S)) && 2 * witness * s < byDevice;
    stoodS = byDevice > 0 ? 0 : stoodS + s;
    if (isJump) jumps += 1;
    stepM[i] = isJump || Number.isNaN(byDevice) ? other : byDevice;
    if (!Number.isNaN(stepM[i]!)) lastMps = stepM[i]! / s;
  }
  return { stepM, jumps };
}
