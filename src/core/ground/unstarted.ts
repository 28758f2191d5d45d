/** What a recorder wrote after a stop that no start follows: the start may be missing, or it went on in the car home. */

import { MINUTE_MS, msOf } from '../../units.js';
import type { Stretch } from './samples/intervals.js';
import { notesOf } from './samples/notes.js';
import type { Recording, Span } from './samples/recording.js';

/** A few samples after the last stop are common, and nothing to ask about. */
const FEW_MS = MINUTE_MS;
/** The recorder's own sums say so when they come this near to all of it. */
const TIMER_SHARE = 0.9;
const DISTANCE_SHARE = 0.02;

/** A recording with the spans whose start is missing, and the stretches of them that nothing vouches for. */
export interface Reopened {
  readonly recording: Recording;
  readonly doubtful: readonly Stretch[];
}

/** Returns the recording with what moves after an unanswered stop, and what of it is to be asked about. */
export function reopened(recording: Recording): Reopened {
  const { unstarted = [], samples, spans } = recording;
  const long = unstarted.filter((span) => lengthOf(samples.timeMs, span) >= FEW_MS);
  if (long.length === 0) return { recording, doubtful: [] };
  const open = [...spans, ...long].sort((a, b) => a.from - b.from);
  const isVouchedFor = timerSays(recording, open) || distanceSays(recording, spans, long);
  const stretchOf = ({ from, to }: Span): Stretch => [samples.timeMs[from]!, samples.timeMs[to - 1]!];
  return {
    recording: {
      ...recording,
      spans: open,
      ...(isVouchedFor && {
        notes: [...recording.notes, ...notesOf({ 'timer-start-missing': long.length })],
      }),
    },
    doubtful: isVouchedFor ? [] : long.map(stretchOf),
  };
}

const lengthOf = (timeMs: Float64Array, { from, to }: Span): number =>
  to > from ? timeMs[to - 1]! - timeMs[from]! || 0 : 0;

/** The timer ran for as long as all of it lasts. */
function timerSays({ claims: { timerS }, samples }: Recording, open: readonly Span[]): boolean {
  if (timerS === null) return false;
  const allMs = open.reduce((sum, span) => sum + lengthOf(samples.timeMs, span), 0);
  return msOf(timerS) >= TIMER_SHARE * allMs;
}

/** The recorder's distance of the ride is that at the end of all of it, not at the stop. */
function distanceSays(
  { claims: { distanceM }, samples: { distM } }: Recording,
  spans: readonly Span[],
  long: readonly Span[],
): boolean {
  if (distanceM === null || spans.length === 0) return false;
  const at = (span: Span): number => distM[span.to - 1]!;
  const [end, stop] = [at(long.at(-1)!), at(spans.at(-1)!)];
  const isNear = (metres: number): boolean => Math.abs(metres - distanceM) <= DISTANCE_SHARE * distanceM;
  return isNear(end) && !isNear(stop);
}
