/** A recording is cut where nobody rode for hours: each part is a ride of its own, on its own day. */
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../units.js';
import { MOVING } from './moving/moving.js';
import type { Survey } from './moving/survey.js';
import type { Recording, Span } from './samples/recording.js';

/** Nobody moved for this long: what follows is another ride. */
export const REST_MS = 4 * HOUR_MS;
/** Standing about stays with the ride for so long. */
const EDGE_MS = 5 * MINUTE_MS;
/** A clock that jumps by more than this while the bike rolls was wrong on one side. */
const JUMP_MS = DAY_MS;
const ROLLED_M = 100;

/** A stretch of time that holds one ride. Units: milliseconds since 1970, half open. */
export interface PartOfTime {
  readonly fromMs: number;
  readonly toMs: number;
  /** Moving steps, by which parts are compared. */
  readonly steps: number;
  /** Its clock jumped away from, or to, a part that goes on with the same movement. */
  readonly jumps: boolean;
}

/** Returns the parts with riding in them; a single one from end to end where nothing is to be cut off. */
export function partsBetweenRests({ kept, states, untimed }: Survey): PartOfTime[] {
  const { count, timeMs } = kept;
  const whole = { fromMs: Number.NEGATIVE_INFINITY, toMs: Number.POSITIVE_INFINITY, steps: 0, jumps: false };
  if (untimed || count < 2) return [whole];
  const parts: Growing[] = [];
  let lastMs = timeMs[0]!;
  let last: Growing | null = null;
  for (let i = 1; i < count; i++) {
    if (states[i] !== MOVING) continue;
    const from = timeMs[i - 1]!;
    if (last === null || from - lastMs >= REST_MS) {
      const isCut = from - lastMs >= REST_MS;
      const jumps: boolean = last !== null && isJump(kept, states, i);
      if (last !== null) {
        last.toMs = lastMs + EDGE_MS;
        last.jumps ||= jumps;
      }
      last = { fromMs: isCut ? from - EDGE_MS : whole.fromMs, toMs: whole.toMs, steps: 0, jumps };
      parts.push(last);
    }
    last.steps += 1;
    lastMs = timeMs[i]!;
  }
  if (last !== null && timeMs[count - 1]! - lastMs >= REST_MS) last.toMs = lastMs + EDGE_MS;
  return parts.length === 0 ? [whole] : parts;
}

type Growing = { -readonly [K in keyof PartOfTime]: PartOfTime[K] };

/** Before step `i` the clock ran on for days, and the bike was rolling on both sides at one place. */
function isJump({ timeMs, begins, hopM }: Survey['kept'], states: Uint8Array, i: number): boolean {
  const before = i - 1;
  const isLong = before > 0 && timeMs[before]! - timeMs[before - 1]! >= JUMP_MS && begins[before] === 0;
  return isLong && states[before - 1] === MOVING && hopM[before]! < ROLLED_M;
}

/** Returns the recording as it was in a stretch of time. */
export function recordingWithin(recording: Recording, { fromMs, toMs }: PartOfTime): Recording {
  const within = (spans: readonly Span[]): Span[] =>
    spans.flatMap((span) => runsWithin(recording, span, fromMs, toMs));
  return {
    ...recording,
    spans: within(recording.spans),
    ...(recording.unstarted && { unstarted: within(recording.unstarted) }),
  };
}

function runsWithin(
  { samples: { timeMs } }: Recording,
  { from, to }: Span,
  fromMs: number,
  toMs: number,
): Span[] {
  const runs: Span[] = [];
  let start = -1;
  for (let i = from; i <= to; i++) {
    const isIn = i < to && timeMs[i]! >= fromMs && timeMs[i]! < toMs;
    if (isIn && start < 0) start = i;
    if (isIn || start < 0) continue;
    runs.push({ from: start, to: i });
    start = -1;
  }
  return runs;
}
