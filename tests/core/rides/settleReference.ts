/** What recordings come to, slowly and obviously: every pair is held against every other, in whole minutes. */

import type { Part } from '../../../src/core/rides/ride.js';
import type { Question } from '../../../src/core/tokens.js';

const MINUTE = 60_000;

/** Invented riders and bikes: one rider has two bikes, one has one, and one bike is nobody's. */
export const OWNER: Readonly<Record<string, string | null>> = { b1: 'r1', b2: 'r1', b3: 'r2', h1: null };

interface Own {
  readonly part: Part;
  readonly from: number;
  readonly to: number;
  readonly rider: string | null;
  readonly bike: string | null;
  /** The lower, the stronger. */
  readonly strength: number;
}

export interface ReferenceRide {
  readonly ids: string;
  readonly bike: string | null;
  readonly rider: string | null;
  readonly asks: boolean;
  readonly dismissed: boolean;
  readonly minutes: number;
}

const no = (part: Part): boolean =>
  (['no-times', 'clock-unset', 'clock-future', 'sport-unclear', 'who', 'which-bike'] as Question[]).some(
    (question) => part.answer.ride?.[question] === false,
  );

const isTimed = ({ reading, answer }: Part): boolean =>
  reading.question !== 'clock-unset' || answer.on !== undefined;

function timeOf({ reading, answer }: Part): readonly [number, number] {
  const start = reading.question === 'clock-unset' ? (answer.on ?? 0) : reading.start!;
  return [start / MINUTE, (start + reading.end! - reading.start!) / MINUTE];
}

/** What a person said of the bike; undefined where nobody spoke, null where it is not clear. */
function saidBike(part: Part): string | null | undefined {
  if (part.answer.bikeId !== undefined) return part.answer.bikeId;
  const clear = [...new Set(part.named.map((one) => one.bikeId).filter((bike) => bike !== null))];
  if (clear.length > 0) return clear.length === 1 ? clear[0]! : null;
  return part.named.length > 0 ? null : undefined;
}

const isContradicted = (part: Part): boolean =>
  saidBike(part) === null && part.named.some((one) => one.bikeId !== null);

function sensorBike(part: Part, parts: readonly Part[]): string | null {
  const [at] = timeOf(part);
  const bikes = new Set<string>();
  for (const { id, boundTo } of part.reading.sensors) {
    if (boundTo === 'rider') continue;
    const lessons: { bike: string; from: number; to: number }[] = [];
    const taught = parts
      .filter((one) => isTimed(one) && !no(one) && one.reading.sensors.some((sensor) => sensor.id === id))
      .flatMap((one) => {
        const bike = saidBike(one);
        const [from, to] = timeOf(one);
        return bike ? [{ bike, from, to }] : [];
      })
      .sort((a, b) => a.from - b.from || (a.bike < b.bike ? -1 : 1));
    for (const [i, one] of taught.entries()) {
      const isSameOuting = taught.slice(0, i).some((early) => early.bike === one.bike && one.from < early.to);
      if (!isSameOuting) lessons.push(one);
    }
    const before = lessons.filter((one) => one.from <= at);
    const [first, second] = before.length < 2 ? lessons : before.slice(before.length - 2);
    if (first && second && first.bike === second.bike) bikes.add(first.bike);
  }
  return bikes.size === 1 ? [...bikes][0]! : null;
}

function ownOf(part: Part, parts: readonly Part[]): Own {
  const [from, to] = timeOf(part);
  const rider = part.answer.riderId ?? part.riderId;
  const on = (bike: string, strength: number): Own => ({
    part,
    from,
    to,
    rider: rider ?? OWNER[bike]!,
    bike,
    strength,
  });
  const nothing: Own = { part, from, to, rider, bike: null, strength: 9 };
  const said = saidBike(part);
  const rule = part.named.some((one) => one.rule === 'chosen') ? 1 : 2;
  if (said) return on(said, part.answer.bikeId === undefined ? rule : 0);
  if (isContradicted(part)) return { ...nothing, strength: rule };
  const sensor = sensorBike(part, parts);
  if (sensor) return on(sensor, 3);
  if (said === null) return nothing;
  return rider === 'r2' ? on('b3', 4) : nothing;
}

const isOneOutfit = (a: Own, b: Own): boolean =>
  (a.rider !== null && a.rider === b.rider) || (a.bike !== null && a.bike === b.bike);
const shared = (a: Own, b: Own): number => Math.min(a.to, b.to) - Math.max(a.from, b.from);
const length = (one: Own): number => one.to - one.from;
const isSame = (a: Own, b: Own): boolean =>
  isOneOutfit(a, b) && shared(a, b) > 0 && shared(a, b) >= Math.min(length(a), length(b)) / 2;
const isUnclear = (a: Own, b: Own): boolean => isOneOutfit(a, b) && !isSame(a, b) && shared(a, b) > 1;
type Group = Own[];

type Pair = readonly [Own, Own];

const isEarlier = (a: Own, b: Own): number =>
  a.from - b.from || (a.part.readingId < b.part.readingId ? -1 : 1);

/** Every pair, the earlier first, in order. */
const pairsOf = (all: readonly Own[]): Pair[] => {
  const sorted = [...all].sort(isEarlier);
  return sorted.flatMap((a, i) => sorted.slice(i + 1).map((b): Pair => [a, b]));
};

/** Two that have nothing to do with one another and lie upon one another are never made one by a third. */
const isConflict = (a: Own, b: Own): boolean => !isOneOutfit(a, b) && shared(a, b) > 1;

/** Joins pair by pair; returns the pairs that could not be. */
function join(groups: Group[], pairs: readonly Pair[]): Pair[] {
  const refused: Pair[] = [];
  for (const [a, b] of pairs) {
    const into = groups.find((group) => group.includes(a))!;
    const from = groups.find((group) => group.includes(b))!;
    if (into === from) continue;
    if (some(into, from, isConflict)) refused.push([a, b]);
    else {
      into.push(...from);
      groups.splice(groups.indexOf(from), 1);
    }
  }
  return refused;
}

const first = (group: Group): Own =>
  group.reduce((a, b) =>
    a.from < b.from || (a.from === b.from && a.part.readingId < b.part.readingId) ? a : b,
  );
const longest = (group: Group): number => Math.max(...group.map(length));
const isLater = (a: Group, b: Group): boolean =>
  first(a).from > first(b).from ||
  (first(a).from === first(b).from && first(a).part.readingId > first(b).part.readingId);
const waitsFor = (a: Group, b: Group): boolean =>
  longest(a) < longest(b) || (longest(a) === longest(b) && isLater(a, b));
const some = (a: Group, b: Group, test: (one: Own, other: Own) => boolean): boolean =>
  a.some((one) => b.some((other) => test(one, other)));

function word(group: Group, question: Question): boolean | undefined {
  const inOrder = [...group].sort(
    (a, b) => a.from - b.from || (a.part.readingId < b.part.readingId ? -1 : 1),
  );
  return inOrder.map((one) => one.part.answer.ride?.[question]).find((said) => said !== undefined);
}

function minutesOf(group: Group): number {
  const sound = group.filter((one) => one.part.reading.damage === null);
  const minutes = new Set<number>();
  for (const one of group) {
    const isCovered =
      one.part.reading.damage !== null && sound.some((other) => shared(one, other) >= 0.9 * length(one));
    if (isCovered) continue;
    for (let t = one.from; t < one.to; t++) minutes.add(t);
  }
  return minutes.size;
}

function rideOf(group: Group): Omit<ReferenceRide, 'dismissed'> {
  const strongest = Math.min(...group.map((one) => one.strength));
  // Choices and folders are people's words alike.
  const isStrongest = (one: Own): boolean =>
    one.strength === strongest || (strongest > 0 && strongest < 3 && one.strength < 3);
  const bikes = new Set(group.filter(isStrongest).map((one) => one.bike));
  const bike = bikes.size === 1 ? [...bikes][0]! : null;
  const unclear =
    group.every((one) => one.part.reading.question === 'sport-unclear') &&
    word(group, 'sport-unclear') === undefined;
  const untimed = group.some((one) => !isTimed(one.part));
  return {
    ids: group
      .map((one) => one.part.readingId)
      .sort()
      .join(' '),
    bike,
    rider: null,
    asks: untimed || unclear || bike === null,
    minutes: minutesOf(group),
  };
}

/** Returns the rides, in the order of their ids. */
export function referenceRides(parts: readonly Part[]): ReferenceRide[] {
  const all = parts.map((part) => ownOf(part, parts));
  const timed = all.filter((one) => isTimed(one.part));
  const dismissed = timed.filter((one) => {
    const isTwinOf = (other: Own): boolean =>
      no(other.part) &&
      isOneOutfit(one, other) &&
      shared(one, other) >= 0.9 * Math.max(length(one), length(other));
    const saysYes = Object.values(one.part.answer.ride ?? {}).includes(true);
    return no(one.part) || (!saysYes && timed.some(isTwinOf));
  });
  const open = timed.filter((one) => !dismissed.includes(one)).map((one) => [one]);
  const groups: Group[] = open;
  const pairs = pairsOf(open.flat());
  const refused = join(
    groups,
    pairs.filter(([a, b]) => isSame(a, b)),
  );
  const inDoubt = [...refused, ...pairs.filter(([a, b]) => isUnclear(a, b))];
  const groupWith = (one: Own): Group => groups.find((group) => group.includes(one))!;
  const related = (): { pair: Pair; waits: Group; other: Group }[] =>
    inDoubt.flatMap((pair) => {
      const [a, b] = [groupWith(pair[0]), groupWith(pair[1])];
      if (a === b) return [];
      return waitsFor(a, b) ? [{ pair, waits: a, other: b }] : [{ pair, waits: b, other: a }];
    });
  const isBefore = (x: Pair, y: Pair): number => Number(refused.includes(y)) - Number(refused.includes(x));
  const said = related()
    .sort((x, y) => isBefore(x.pair, y.pair) || isEarlier(first(x.other), first(y.other)))
    .filter(({ waits }) => word(waits, 'same-ride-unclear') === false);
  join(
    groups,
    said.map(({ pair }) => pair),
  );
  const rides: ReferenceRide[] = [
    ...all.filter((one) => !isTimed(one.part)).map((one) => ({ ...rideOf([one]), dismissed: no(one.part) })),
    ...dismissed.map((one) => ({ ...rideOf([one]), dismissed: true })),
  ];
  for (const group of groups) {
    const ride = rideOf(group);
    const isDoubted = related().some(({ waits }) => waits === group);
    const isSaid = word(group, 'same-ride-unclear') === true;
    rides.push({ ...ride, asks: ride.asks || (isDoubted && !isSaid), dismissed: false });
  }
  return rides.sort((a, b) => (a.ids < b.ids ? -1 : 1));
}
