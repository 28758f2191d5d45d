/** Which recordings are one ride, and which may be: by their times, their tracks and what a person said. */
import type { Attribution, OwnWord } from './attribution.js';
import { type Recorded, saidOf } from './joinRecordings.js';
import type { Part, Question } from './ride.js';
import { CLOCK_SKEW_MS, isTwin, LARGEST_SHIFT_MS, relationOf } from './sameRide.js';

/** A recording in time, and whose it is by itself. */
export interface Placed extends Recorded {
  readonly attribution: OwnWord;
}

/** Recordings of one ride, in order of start. */
export type Group = readonly Placed[];

export const byStart = (a: Placed, b: Placed): number =>
  a.startMs - b.startMs || (a.part.readingId < b.part.readingId ? -1 : 1);

const QUESTIONS_OF_BEING_A_RIDE: readonly Question[] = [
  'no-times',
  'clock-unset',
  'clock-future',
  'sport-unclear',
  'who',
  'which-bike',
  'not-in-file',
];

export const isDismissed = ({ answer }: Part): boolean =>
  QUESTIONS_OF_BEING_A_RIDE.some((question) => answer.ride?.[question] === false);

/** Those that a person said are no ride, and other recordings of the same outing, each with the one that it goes by. */
export function dismissedOf(timed: readonly Placed[]): Map<Placed, Placed> {
  const by = new Map(timed.filter(({ part }) => isDismissed(part)).map((one) => [one, one]));
  const isOwn = ({ part }: Placed): boolean => Object.values(part.answer.ride ?? {}).includes(true);
  for (const [a, b] of nearPairs(by.size === 0 ? [] : timed)) {
    if (!isTwin(a, b)) continue;
    if (isDismissed(a.part) && !by.has(b) && !isOwn(b)) by.set(b, a);
    if (isDismissed(b.part) && !by.has(a) && !isOwn(a)) by.set(a, b);
  }
  return by;
}

/** What a group may be the same ride as, and what a person said to that. */
export interface Doubt {
  readonly question: 'same-ride-shifted' | 'same-ride-unclear';
  readonly other: Group;
  readonly said: boolean | undefined;
}

/** Joins what is one ride: by its times, or because a person said so of two that overlap a little. */
export function groupSame(placed: readonly Placed[]): Group[] {
  const pairs = [...nearPairs(placed)];
  const byTimes = joined(
    placed.map((one) => [one]),
    pairs.filter(([a, b]) => relationOf(a, b) === 'same'),
  );
  const isOneByWord = ({ relation, waits }: Related): boolean =>
    relation === 'unclear' && saidOf(waits, 'same-ride-unclear') === false;
  const byWord = relatedGroups(byTimes, pairs).filter(isOneByWord);
  return joined(
    byTimes,
    byWord.map(({ waits, other }) => [waits[0]!, other[0]!]),
  );
}

/** Returns the groups with those joined that a pair links; each in order of start, and they too. */
function joined(groups: readonly Group[], links: readonly (readonly [Placed, Placed])[]): Group[] {
  const groupOf = new Map(
    groups.map((group) => [...group]).flatMap((group) => group.map((one) => [one, group] as const)),
  );
  for (const [a, b] of links) {
    const [into, from] = [groupOf.get(a)!, groupOf.get(b)!];
    if (into === from) continue;
    into.push(...from);
    for (const one of from) groupOf.set(one, into);
  }
  const distinct = [...new Set(groupOf.values())].map((group) => group.sort(byStart));
  return distinct.sort((a, b) => byStart(a[0]!, b[0]!));
}

/** Two groups that may be one ride. The shorter waits, so that the order of arrival is no matter. */
interface Related {
  readonly relation: 'unclear' | 'shifted';
  readonly waits: Group;
  readonly other: Group;
}

function relatedGroups(groups: readonly Group[], pairs: readonly (readonly [Placed, Placed])[]): Related[] {
  const groupOf = new Map(groups.flatMap((group) => group.map((one) => [one, group] as const)));
  const related = new Map<string, Related>();
  for (const [a, b] of pairs) {
    const relation = relationOf(a, b);
    const [one, two] = [groupOf.get(a)!, groupOf.get(b)!];
    if (one === two || relation === 'same' || relation === 'apart') continue;
    const [waits, other] = isShorter(one, two) ? [one, two] : [two, one];
    const key = `${waits[0]!.part.readingId} ${other[0]!.part.readingId}`;
    // An overlap says more than a likeness.
    if (relation === 'unclear' || !related.has(key)) related.set(key, { relation, waits, other });
  }
  return [...related.values()];
}

function isShorter(a: Group, b: Group): boolean {
  const movingS = (group: Group): number => Math.max(...group.map((one) => one.movingS));
  return movingS(a) < movingS(b) || (movingS(a) === movingS(b) && byStart(a[0]!, b[0]!) > 0);
}

/** Returns the doubt of each group that waits: that it is the same ride by a person's word before any other. */
export function doubtsOf(groups: readonly Group[]): Map<Group, Doubt> {
  const pairs = [...nearPairs(groups.flat().sort(byStart))];
  const doubts = new Map<Group, Doubt>();
  for (const { relation, waits, other } of relatedGroups(groups, pairs)) {
    const question = relation === 'shifted' ? 'same-ride-shifted' : 'same-ride-unclear';
    const said = saidOf(waits, question);
    const standing = doubts.get(waits);
    const comesFirst = standing === undefined || (said === false && standing.said === undefined);
    if (said !== true && comesFirst) doubts.set(waits, { question, other, said });
  }
  return doubts;
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
