import { SECOND_MS } from '../../../units.js';
import { HALT } from '../moving/moving.js';
import type { HeightsAtRest } from '../samples/heightEvidence.js';
import type { KeptSamples } from '../samples/steps.js';

const WINDOW_MS = 10 * SECOND_MS;
/** Less standing than this says nothing. */
const LEAST_S = 60;
/** About two thirds of the changes are smaller than one standard deviation. Source: the normal distribution. */
const WITHIN_ONE = 0.683;

/** Returns by how much heights moved in 10 s while the bike stood, or null where it hardly ever did. */
export function heightsAtRest(
  { count, timeMs, begins }: Pick<KeptSamples, 'count' | 'timeMs' | 'begins'>,
  eleM: Float64Array,
  states: Uint8Array,
): HeightsAtRest | null {
  const changes: HeightChange[] = [];
  for (let i = 1, from = 0; i <= count; i += 1) {
    if (i < count && states[i] === HALT && begins[i] === 0) continue;
    addChanges(timeMs, eleM, from, i - 1, changes);
    from = i;
  }
  const allMs = changes.reduce((sum, { ms }) => sum + ms, 0);
  if (allMs < LEAST_S * SECOND_MS) return null;
  return {
    restS: Math.round(allMs / SECOND_MS),
    changeM: Math.round(100 * largestWithin(changes, WITHIN_ONE * allMs)) / 100,
  };
}

/** A change, and the time that it stands for. */
interface HeightChange {
  readonly m: number;
  readonly ms: number;
}

/** Returns the largest of the smallest changes that together stand for so long. */
function largestWithin(changes: readonly HeightChange[], wantedMs: number): number {
  let ms = 0;
  for (const change of [...changes].sort((a, b) => a.m - b.m)) {
    ms += change.ms;
    if (ms >= wantedMs) return change.m;
  }
  return Number.POSITIVE_INFINITY;
}

/** Adds the change from each sample of a halt to the one 10 s on; over up to twice that, as a random walk would have it. */
function addChanges(
  timeMs: Float64Array,
  eleM: Float64Array,
  from: number,
  to: number,
  changes: HeightChange[],
): void {
  let on = from;
  for (let i = from; i < to; i += 1) {
    while (on <= to && timeMs[on]! - timeMs[i]! < WINDOW_MS) on += 1;
    if (on > to) return;
    const m = Math.abs(eleM[on]! - eleM[i]!) * Math.sqrt(WINDOW_MS / (timeMs[on]! - timeMs[i]!));
    if (timeMs[on]! - timeMs[i]! > 2 * WINDOW_MS || Number.isNaN(m)) continue;
    changes.push({ m, ms: Math.min(WINDOW_MS, timeMs[i + 1]! - timeMs[i]!) });
  }
}
