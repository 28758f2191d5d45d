/**
 * Whether two recordings have one rhythm: after one shift of a clock they move and halt together. A copy does; the same
 * way ridden again has other halts.
 */
import { HOUR_MS, MINUTE_MS, SECOND_MS } from '../../units.js';
import { lengthOf, type Stretch, unionOf, without } from '../ground/samples/intervals.js';

/** No two clocks differ by more: the zones of the world, and an hour of summer. */
export const LARGEST_SHIFT_MS = 15 * HOUR_MS;
/** What coincides within this is one moment. */
export const ONE_MOMENT_MS = 10 * SECOND_MS;
/** Halts shorter than this are seen by one recorder and not by the next. */
const HALT_MS = 30 * SECOND_MS;
/** So many moments of each recording propose shifts, and so many proposals are weighed. */
const MOST_MOMENTS = 150;
const MOST_PROPOSALS = 8;
/** So many moments of all. */
const ALL_BUT_FEW = 0.9;
/** The shorter lies in the longer, but for this share. */
const COVERED = 0.9;

/** How well two recordings coincide under a shift that is added to the second one's clock. */
export interface Fit {
  readonly shiftMs: number;
  /** Of the moving time of either within the stretch that both cover, the part that coincides. */
  readonly share: number;
  /** Moments of setting off and halting that coincide, beyond the one that any shift can bring about. */
  readonly evidence: number;
  /** Of such moments, the part that coincides. */
  readonly moments: number;
  /** Moving time of both under the shift. Units: milliseconds. */
  readonly togetherMs: number;
}

/** Returns the shifts worth looking at, the best first; the clocks as they are among them. Shape: both sorted, disjoint. */
export function fitsOf(a: readonly Stretch[], b: readonly Stretch[]): Fit[] {
  if (a.length === 0 || b.length === 0) return [];
  const both: Both = {
    plain: [momentsOf(a, HALT_MS), momentsOf(b, HALT_MS)],
    fine: [momentsOf(a, 0), momentsOf(b, 0)],
  };
  return [0, ...proposals(...both.fine)]
    .map((shiftMs) => fitAt(a, b, shiftMs, both))
    .filter((fit) => fit !== null)
    .sort(
      (x, y) =>
        y.evidence * y.share - x.evidence * x.share ||
        y.togetherMs - x.togetherMs ||
        Math.abs(x.shiftMs) - Math.abs(y.shiftMs),
    );
}

interface Moments {
  readonly starts: readonly number[];
  readonly ends: readonly number[];
}

/** Of both recordings, without the halts that one recorder sees and the next does not, and with them. */
interface Both {
  readonly plain: readonly [Moments, Moments];
  readonly fine: readonly [Moments, Moments];
}

/** Setting off and halting, shorter halts apart. */
function momentsOf(stretches: readonly Stretch[], haltMs: number): Moments {
  const closed = unionOf(stretches.map(([from, to]) => [from, to + haltMs]));
  return {
    starts: closed.map(([from]) => from),
    ends: closed.map(([, to]) => to - haltMs),
  };
}

/** The shifts that bring most moments together, from all pairs of them. */
function proposals(a: Moments, b: Moments): number[] {
  const shifts: number[] = [];
  for (const kind of ['starts', 'ends'] as const)
    for (const own of some(a[kind]))
      for (const other of some(b[kind]))
        if (Math.abs(own - other) <= LARGEST_SHIFT_MS) shifts.push(own - other);
  shifts.sort((x, y) => x - y);
  const votes: { count: number; shiftMs: number }[] = [];
  for (let from = 0, to = 0; from < shifts.length; from++) {
    while (to < shifts.length && shifts[to]! - shifts[from]! <= ONE_MOMENT_MS) to += 1;
    votes.push({ count: to - from, shiftMs: shifts[(from + to - 1) >> 1]! });
  }
  votes.sort(
    (x, y) => y.count - x.count || Math.abs(x.shiftMs) - Math.abs(y.shiftMs) || x.shiftMs - y.shiftMs,
  );
  const chosen: number[] = [];
  for (const { shiftMs } of votes) {
    if (chosen.length === MOST_PROPOSALS) break;
    if (chosen.every((one) => Math.abs(one - shiftMs) > ONE_MOMENT_MS / 2)) chosen.push(shiftMs);
  }
  return chosen.filter((shiftMs) => shiftMs !== 0);
}

/** Of many, the first and the last. */
const some = (moments: readonly number[]): readonly number[] =>
  moments.length <= MOST_MOMENTS
    ? moments
    : [...moments.slice(0, MOST_MOMENTS / 2), ...moments.slice(-MOST_MOMENTS / 2)];

/** Returns how well they fit; null where under this shift the shorter does not lie in the longer. */
function fitAt(
  a: readonly Stretch[],
  b: readonly Stretch[],
  shiftMs: number,
  { plain, fine }: Both,
): Fit | null {
  const moved = b.map(([from, to]): Stretch => [from + shiftMs, to + shiftMs]);
  const [aFrom, aTo, bFrom, bTo] = [a[0]![0], a.at(-1)![1], moved[0]![0], moved.at(-1)![1]];
  const from = Math.max(aFrom, bFrom);
  const to = Math.min(aTo, bTo);
  if (to - from < COVERED * Math.min(aTo - aFrom, bTo - bFrom)) return null;
  const [inA, inB] = [within(a, from, to), within(moved, from, to)];
  const apart = [...without(inA, inB), ...without(inB, inA)].filter(([x, y]) => y - x > ONE_MOMENT_MS);
  const all = lengthOf(unionOf([...inA, ...inB]));
  if (all === 0) return null;
  const inFine = matchesOf(...fine, shiftMs, from, to);
  // Where even short halts coincide, they are evidence too; where they do not, another recorder may have missed them.
  const matched = inFine.share >= ALL_BUT_FEW ? inFine : matchesOf(...plain, shiftMs, from, to);
  return {
    shiftMs,
    share: 1 - lengthOf(apart) / all,
    evidence: matched.count - 1,
    moments: matched.share,
    togetherMs: lengthOf(inA) - lengthOf(without(inA, inB)),
  };
}

const within = (stretches: readonly Stretch[], from: number, to: number): Stretch[] =>
  stretches.map(([x, y]): Stretch => [Math.max(x, from), Math.min(y, to)]).filter(([x, y]) => y > x);

/** How many moments of each within a stretch of time have one of the other beside them; where one begins in the middle of the other is none. */
function matchesOf(
  a: Moments,
  b: Moments,
  shiftMs: number,
  from: number,
  to: number,
): { readonly count: number; readonly share: number } {
  let [found, all] = [0, 0];
  for (const [kind, edge] of [['starts', from] as const, ['ends', to] as const]) {
    const isIn = (at: number): boolean => at >= from - ONE_MOMENT_MS && at <= to + ONE_MOMENT_MS;
    const own = a[kind].filter(isIn);
    const other = b[kind].map((at) => at + shiftMs).filter(isIn);
    const matched = countNear(own, other) + countNear(other, own);
    const isAtEdge = (at: number): boolean => Math.abs(at - edge) <= 1;
    const isMet =
      own.some((at) => Math.abs(at - edge) <= ONE_MOMENT_MS) &&
      other.some((at) => Math.abs(at - edge) <= ONE_MOMENT_MS);
    found += matched;
    all += own.length + other.length - (isMet ? 0 : [...own, ...other].filter(isAtEdge).length);
  }
  return { count: found / 2, share: all === 0 ? 0 : Math.min(1, found / all) };
}

/** Shape: both rising. */
function countNear(moments: readonly number[], others: readonly number[]): number {
  let [count, k] = [0, 0];
  for (const at of moments) {
    while (k < others.length && others[k]! < at - ONE_MOMENT_MS) k += 1;
    if (k < others.length && others[k]! <= at + ONE_MOMENT_MS) count += 1;
  }
  return count;
}

export const QUARTER_HOUR_MS = 15 * MINUTE_MS;
/** Zones differ from one another by multiples of a quarter of an hour. */
export const isZoneStep = (shiftMs: number, withinMs: number): boolean => {
  const off = Math.abs(shiftMs) % QUARTER_HOUR_MS;
  return Math.min(off, QUARTER_HOUR_MS - off) <= withinMs && Math.abs(shiftMs) >= QUARTER_HOUR_MS / 2;
};
