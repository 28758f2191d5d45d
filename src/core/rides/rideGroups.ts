/** Which recordings are one ride, and which may be: by where and when they moved, and what a person said. */

import { lengthOf, type Stretch, without } from '../ground/samples/intervals.js';
import type { Question } from '../tokens.js';
import type { Attribution, OwnWord } from './attribution.js';
import { moved, type Recorded, saidOf, trustOf } from './joinRecordings.js';
import { LARGEST_SHIFT_MS } from './rhythm.js';
import type { Part } from './ride.js';
import { CLOCK_SKEW_MS, type Relation, relationOf } from './sameRide.js';

/** A recording in time, and whose it is by itself. */
export interface Placed extends Recorded {
  readonly attribution: OwnWord;
}

/** Recordings of one ride under one clock, in order of start. */
export type Group = readonly Placed[];

/** Two recordings that have to do with one another. */
export interface RideLink {
  readonly a: Placed;
  readonly b: Placed;
  readonly relation: Relation;
  /** A person said so. */
  readonly isSaid: boolean;
}

export const byStart = (a: Placed, b: Placed): number =>
  a.startMs - b.startMs || (a.part.readingId < b.part.readingId ? -1 : 1);

const QUESTIONS_OF_BEING_A_RIDE: readonly Question[] = [
  'no-times',
  'clock-unset',
  'clock-future',
  'too-sparse',
  'sport-unclear',
  'who',
  'which-bike',
  'not-in-file',
  'two-places',
];

export const isDismissed = ({ answer }: Part): boolean =>
  QUESTIONS_OF_BEING_A_RIDE.some((question) => answer.ride?.[question] === false);

/** Returns all pairs of one rider or bike that are more than two rides apart. Shape: `placed` in order of start. */
export function linksOf(placed: readonly Placed[]): RideLink[] {
  const links: RideLink[] = [];
  for (const [a, b] of nearPairs(placed)) {
    const said = saidOfBoth(a.part, b.part);
    if (said === false) continue;
    const relation: Relation = said === undefined ? relationOf(a, b) : { kind: 'same', shiftMs: said };
    if (relation.kind !== 'apart') links.push({ a, b, relation, isSaid: said !== undefined });
  }
  return links;
}

/** By how much a person moved the second clock to make one ride of two; false where they are two. */
function saidOfBoth(a: Part, b: Part): number | false | undefined {
  const [own, other] = [a.answer.joins?.[b.readingId], b.answer.joins?.[a.readingId]];
  return own ?? (typeof other === 'number' ? -other : other);
}

/** Two recordings of one outing from beginning to end. */
const TWIN_SHARE = 0.9;

/** Those that a person said are no ride, and other recordings of the same outing, each with the one that it goes by. */
export function dismissedOf(timed: readonly Placed[], links: readonly RideLink[]): Map<Placed, Placed> {
  const by = new Map(timed.filter(({ part }) => isDismissed(part)).map((one) => [one, one]));
  const isOwn = ({ part }: Placed): boolean => Object.values(part.answer.ride ?? {}).includes(true);
  for (const { a, b, relation } of by.size === 0 ? [] : links) {
    if (relation.kind !== 'same' || !isTwin(a, moved(b, relation.shiftMs))) continue;
    if (isDismissed(a.part) && !by.has(b) && !isOwn(b)) by.set(b, a);
    if (isDismissed(b.part) && !by.has(a) && !isOwn(a)) by.set(a, b);
  }
  return by;
}

const isTwin = (a: Recorded, b: Recorded): boolean =>
  togetherMs(a.moving, b.moving) >= TWIN_SHARE * Math.max(lengthOf(a.moving), lengthOf(b.moving));

const togetherMs = (a: readonly Stretch[], b: readonly Stretch[]): number =>
  lengthOf(a) - lengthOf(without(a, b));

/** What a group may be the same ride as, and what a person said to that. */
export interface Doubt {
  readonly question: 'same-ride-shifted' | 'same-ride-unclear' | 'two-places';
  readonly other: Group;
}

export interface Grouped {
  readonly groups: readonly Group[];
  /** The doubt of each group that waits. */
  readonly doubts: ReadonlyMap<Group, Doubt>;
}

/** Returns the rides, and which of them wait because they may be one with another, or one bike was in two places. */
export function groupSame(placed: readonly Placed[], all: readonly RideLink[]): Grouped {
  const isIn = new Set(placed);
  const links = all.filter(({ a, b }) => isIn.has(a) && isIn.has(b));
  const clusters = new Clusters(placed, links);
  const sure = links.filter(({ relation }) => relation.kind === 'same').sort(byWeight);
  const refused = sure.filter((link) => clusters.join(link) === 'unlike');
  const open = [...links.filter(({ relation }) => relation.kind !== 'same'), ...refused].filter(isDoubt);
  // What somebody answered before answers named the other recording, they said of the ride that waits.
  const ways = (): Related[] => relatedGroups(clusters, open);
  for (const { link, waits } of ways())
    if (link.relation.kind !== 'elsewhere' && saidOf(waits, questionOf(link)) === false) clusters.join(link);
  const doubts = new Map<Group, Doubt>();
  for (const { link, waits, other } of ways()) {
    const question = questionOf(link);
    if (saidOf(waits, question) === true || doubts.has(waits) || arePutApart(waits, other)) continue;
    doubts.set(waits, { question, other });
  }
  return { groups: clusters.list(), doubts };
}

/** A word on any two of them holds for the twins that they have. */
const arePutApart = (waits: Group, other: Group): boolean =>
  waits.some((a) => other.some((b) => saidOfBoth(a.part, b.part) === false));

/** One bike cannot be in two places; two bikes can. */
const isDoubt = ({ a, b, relation }: RideLink): boolean =>
  relation.kind !== 'elsewhere' ||
  (a.attribution.bikeId !== null && a.attribution.bikeId === b.attribution.bikeId);

function questionOf({ relation: { kind, shiftMs } }: RideLink): Doubt['question'] {
  if (kind === 'elsewhere') return 'two-places';
  return kind === 'shifted' || Math.abs(shiftMs) > CLOCK_SKEW_MS ? 'same-ride-shifted' : 'same-ride-unclear';
}

/** What a person said comes first, then copies, then what needs no shift; the order of arrival is no matter. */
const byWeight = (x: RideLink, y: RideLink): number =>
  Number(y.isSaid) - Number(x.isSaid) ||
  Number(y.relation.isCopy ?? false) - Number(x.relation.isCopy ?? false) ||
  Math.abs(x.relation.shiftMs) - Math.abs(y.relation.shiftMs) ||
  byStart(x.a, y.a) ||
  byStart(x.b, y.b);

/** Two groups that may be one ride. The shorter waits, so that the order of arrival is no matter. */
interface Related {
  readonly link: RideLink;
  readonly waits: Group;
  readonly other: Group;
}

/** An overlap says more than a likeness. */
const KINDS: readonly Relation['kind'][] = ['elsewhere', 'same', 'unclear', 'shifted'];

function relatedGroups(clusters: Clusters, open: readonly RideLink[]): Related[] {
  const groupOf = new Map(clusters.list().flatMap((group) => group.map((one) => [one.part, group] as const)));
  const related = open.flatMap((link): Related[] => {
    const [one, two] = [groupOf.get(link.a.part)!, groupOf.get(link.b.part)!];
    if (one === two) return [];
    return [isShorter(one, two) ? { link, waits: one, other: two } : { link, waits: two, other: one }];
  });
  const rank = ({ link }: Related): number => KINDS.indexOf(link.relation.kind);
  return related.sort((x, y) => rank(x) - rank(y) || byStart(x.other[0]!, y.other[0]!));
}

function isShorter(a: Group, b: Group): boolean {
  const movingS = (group: Group): number => Math.max(...group.map((one) => one.movingS));
  return movingS(a) < movingS(b) || (movingS(a) === movingS(b) && byStart(a[0]!, b[0]!) > 0);
}

/** Recordings that are one ride, each with what its clock is moved by so that all have one. */
class Clusters {
  readonly #of = new Map<Placed, Map<Placed, number>>();
  readonly #links = new Map<Placed, Map<Placed, RideLink>>();
  #groups: Group[] | null = null;

  constructor(placed: readonly Placed[], links: readonly RideLink[]) {
    for (const one of placed) this.#of.set(one, new Map([[one, 0]]));
    for (const link of links) {
      for (const [one, other] of [[link.a, link.b] as const, [link.b, link.a] as const]) {
        const own = this.#links.get(one) ?? new Map<Placed, RideLink>();
        this.#links.set(one, own.set(other, link));
      }
    }
  }

  /** Makes one ride of two, unless two others in them would be one that are not, or that a person put apart. */
  join({ a, b, relation: { shiftMs } }: RideLink): 'one' | 'unlike' | 'put-apart' {
    const [into, from] = [this.#of.get(a)!, this.#of.get(b)!];
    if (into === from) return 'one';
    const by = into.get(a)! + shiftMs - from.get(b)!;
    for (const one of into.keys())
      for (const two of from.keys()) if (saidOfBoth(one.part, two.part) === false) return 'put-apart';
    for (const [one, oneMs] of into)
      for (const [two, twoMs] of from) if (!this.#mayBeOne(one, oneMs, two, twoMs + by)) return 'unlike';
    for (const [one, ms] of from) {
      into.set(one, ms + by);
      this.#of.set(one, into);
    }
    this.#groups = null;
    return 'one';
  }

  /** Two that were not found to be one ride must not lie upon one another: that would take hours away. */
  #mayBeOne(one: Placed, oneMs: number, two: Placed, twoMs: number): boolean {
    const link = this.#links.get(one)?.get(two);
    if (link !== undefined) return link.relation.kind !== 'elsewhere';
    return togetherMs(moved(one, oneMs).moving, moved(two, twoMs).moving) <= CLOCK_SKEW_MS;
  }

  /** Returns the rides, each in order of start under its best clock, and they too. */
  list(): readonly Group[] {
    this.#groups ??= [...new Set(this.#of.values())]
      .map((cluster) => alignedOf([...cluster]))
      .sort((a, b) => byStart(a[0]!, b[0]!));
    return this.#groups;
  }
}

/** The clock that is trusted most stands for all; of equals the one that most share, then the earliest. */
function alignedOf(cluster: readonly (readonly [Placed, number])[]): Group {
  if (cluster.length === 1) return [cluster[0]![0]];
  const sharing = (ms: number): number =>
    cluster.filter(([, other]) => Math.abs(other - ms) <= CLOCK_SKEW_MS).length;
  const [[, best]] = [...cluster].sort(
    ([a, aMs], [b, bMs]) =>
      trustOf(a.part.reading) - trustOf(b.part.reading) || sharing(bMs) - sharing(aMs) || byStart(a, b),
  ) as [readonly [Placed, number]];
  return cluster.map(([one, ms]) => moved(one, ms - best)).sort(byStart);
}

/** Pairs of one rider or bike in order of start, near enough in time to be one ride or one that a clock shifted. */
function* nearPairs(placed: readonly Placed[]): Generator<readonly [Placed, Placed]> {
  const reachOf = (one: Placed): number =>
    Math.max(one.endMs, one.startMs + LARGEST_SHIFT_MS + CLOCK_SKEW_MS);
  let near: Placed[] = [];
  for (const b of placed) {
    near = near.filter((a) => reachOf(a) >= b.startMs);
    for (const a of near) if (isOneRiderOrBike(a.attribution, b.attribution)) yield [a, b];
    near.push(b);
  }
}

const isOneRiderOrBike = (a: Attribution, b: Attribution): boolean =>
  (a.riderId !== null && a.riderId === b.riderId) || (a.bikeId !== null && a.bikeId === b.bikeId);
