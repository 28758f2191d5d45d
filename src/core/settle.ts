/** Rides from recordings: which belong together, whose they are, what counts, and what a person must be asked. */
import { type Instant, instant, MINUTE_MS, type Seconds, type Thousandths } from '../units.js';
import { type Attribution, attribute, type BikeKnowledge } from './attribution.js';
import { hasBadClock, isTimed, joinRecordings, type Recorded, recordedOf, saidOf } from './joinRecordings.js';
import type { Weights } from './ledger.js';
import type { Reading, ReadingQuestion, Terrain } from './reading.js';
import { weighRide } from './rideWeight.js';
import { LARGEST_SHIFT_MS, type Relation, relationOf } from './sameRide.js';
import { BIKE_RULES } from './tokens.js';

export type Question = ReadingQuestion | 'who' | 'which-bike' | 'same-ride-shifted' | 'same-ride-unclear';

/** A person's word on a recording, the latest of each kind. */
export interface Answer {
  readonly riderId?: string;
  readonly bikeId?: string;
  /** By question: yes, riding and a ride of its own; or no. */
  readonly ride?: Readonly<Partial<Record<Question, boolean>>>;
  readonly on?: Instant;
  readonly minutes?: number;
}

/** One recording with everything that was said about it: by the folder it lay in, at the upload, in the tray. */
export interface Part {
  readonly readingId: string;
  readonly reading: Reading;
  readonly riderId: string | null;
  readonly bike: { readonly bikeId: string; readonly rule: 'chosen' | 'subfolder' } | null;
  readonly answer: Answer;
  /** When its file was first handed over. */
  readonly arrivedAt: Instant;
}

/** A ride as it stands: it counts when nothing is asked, nobody said that it is none, and it was outdoors on a bike. */
export interface Ride {
  /** That of its earliest recording. */
  readonly id: string;
  readonly readingIds: readonly string[];
  readonly riderId: string | null;
  readonly bikeId: string | null;
  readonly bikeRule: Attribution['bikeRule'];
  readonly start: Instant | null;
  readonly end: Instant | null;
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
  /** What its weight follows from, so that other weights need no reading; null where it was entered by hand. */
  readonly terrain: Terrain | null;
  readonly severity: number;
  readonly quality: number | null;
  readonly distanceM: number;
  readonly ascentM: number | null;
  readonly descentM: number | null;
  readonly subSport: string | null;
  readonly indoor: boolean;
  /** What kept a recording of it from being read whole. */
  readonly damage: Reading['damage'];
  readonly question: Question | null;
  /** The ride that this one may be the same as. */
  readonly otherRideId: string | null;
  readonly dismissed: boolean;
}

export const isCounted = (ride: Ride): boolean =>
  ride.question === null && !ride.dismissed && !ride.indoor && ride.bikeId !== null;

interface Placed extends Recorded {
  readonly attribution: Attribution;
}

/** Returns the rides that any set of recordings makes; the order of `parts` does not matter. */
export function settleRides(parts: readonly Part[], known: BikeKnowledge, weights: Weights): Ride[] {
  const rides: Ride[] = [];
  const placed: Placed[] = [];
  for (const part of parts) {
    const one = place(part, known);
    if (isTimed(part) && !isDismissed(part)) placed.push(one);
    else rides.push({ ...rideOf([one], known, weights), dismissed: isDismissed(part) });
  }
  placed.sort((a, b) => a.startMs - b.startMs || (a.part.readingId < b.part.readingId ? -1 : 1));
  const { groups, doubts } = groupSame(placed);
  const rideIds = new Map(groups.flatMap((group) => group.map((one) => [one, group[0]!.part.readingId])));
  for (const group of groups) {
    const doubt = group.map((one) => doubts.get(one)).find((found) => found !== undefined);
    const ride = rideOf(group, known, weights);
    if (!doubt) rides.push(ride);
    else if (doubt.said === false) rides.push({ ...ride, dismissed: true });
    else
      rides.push({
        ...ride,
        question: ride.question ?? doubt.question,
        otherRideId: rideIds.get(doubt.other)!,
      });
  }
  return rides;
}

/** The bike that a person named for a recording, which is what teaches its sensors. */
export const namedBikeOf = (part: Part): string | null => part.answer.bikeId ?? part.bike?.bikeId ?? null;

/** When the recording began by its own clock or a person's word; null where neither can be believed. */
export const startOf = (part: Part): Instant | null =>
  isTimed(part)
    ? instant(hasBadClock(part.reading) ? part.answer.on! : (part.reading.start ?? part.answer.on!))
    : null;

const QUESTIONS_OF_BEING_A_RIDE: readonly Question[] = [
  'no-times',
  'clock-unset',
  'clock-future',
  'sport-unclear',
  'who',
  'which-bike',
];

const isDismissed = ({ answer }: Part): boolean =>
  QUESTIONS_OF_BEING_A_RIDE.some((question) => answer.ride?.[question] === false);

function place(part: Part, known: BikeKnowledge): Placed {
  const { reading, answer } = part;
  const recorded = recordedOf(part);
  const attribution = attribute(
    {
      riderId: answer.riderId ?? part.riderId,
      bike: answer.bikeId === undefined ? part.bike : { bikeId: answer.bikeId, rule: 'chosen' },
      sensors: reading.sensors,
      subSport: reading.subSport,
      start: instant(recorded.startMs),
      arrivedAt: part.arrivedAt,
    },
    known,
  );
  return { ...recorded, attribution };
}

interface Doubt {
  readonly question: 'same-ride-shifted' | 'same-ride-unclear';
  readonly other: Placed;
  readonly said: boolean | undefined;
}

/** Groups recordings of one ride. Of two that may be one the shorter waits, so that the order of arrival is no matter. */
function groupSame(placed: readonly Placed[]): { groups: Placed[][]; doubts: Map<Placed, Doubt> } {
  const leader = new Map<Placed, Placed>(placed.map((one) => [one, one]));
  const find = (one: Placed): Placed => {
    let at = one;
    while (leader.get(at) !== at) at = leader.get(at)!;
    return at;
  };
  const open: { waits: Placed; doubt: Doubt }[] = [];
  for (const [a, b, relation] of relatedPairs(placed)) {
    const [waits, other] = a.movingS < b.movingS ? [a, b] : [b, a];
    const question = relation === 'shifted' ? 'same-ride-shifted' : 'same-ride-unclear';
    const said = waits.part.answer.ride?.[question];
    if (relation === 'same' || (relation === 'unclear' && said === false)) leader.set(find(b), find(a));
    else if (said !== true) open.push({ waits, doubt: { question, other, said } });
  }
  const doubts = new Map<Placed, Doubt>();
  for (const { waits, doubt } of open) {
    if (find(waits) !== find(doubt.other) && !doubts.has(waits)) doubts.set(waits, doubt);
  }
  const groups = new Map<Placed, Placed[]>();
  for (const one of placed) groups.set(find(one), [...(groups.get(find(one)) ?? []), one]);
  return { groups: [...groups.values()], doubts };
}

/** Pairs in order of start, so that only recordings near in time are held against one another. */
function* relatedPairs(placed: readonly Placed[]): Generator<[Placed, Placed, Relation]> {
  const longest = placed.reduce((max, one) => Math.max(max, one.endMs - one.startMs), 0);
  const reach = Math.max(longest, LARGEST_SHIFT_MS) + MINUTE_MS;
  for (let j = 1; j < placed.length; j++) {
    for (let i = j - 1; i >= 0 && placed[j]!.startMs - placed[i]!.startMs <= reach; i--) {
      const [a, b] = [placed[i]!, placed[j]!];
      if (!isOneRiderOrBike(a.attribution, b.attribution)) continue;
      const relation = relationOf(a, b);
      if (relation !== 'apart') yield [a, b, relation];
    }
  }
}

const isOneRiderOrBike = (a: Attribution, b: Attribution): boolean =>
  (a.riderId !== null && a.riderId === b.riderId) || (a.bikeId !== null && a.bikeId === b.bikeId);

/** Returns one ride from all its recordings: the union of their moving time, the ground of the best of them. */
function rideOf(group: readonly Placed[], known: BikeKnowledge, weights: Weights): Ride {
  const { members, best, movingS, terrain } = joinRecordings(group);
  const whose = attributionOf(group);
  const bike = whose.bikeId === null ? undefined : known.getBike(whose.bikeId);
  const readings = members.map((one) => one.part.reading);
  const { subSport } = best.part.reading;
  const timed = group.every((one) => isTimed(one.part));
  const indoor = readings.every((reading) => reading.indoor);
  const ground = { terrain, movingS, subSport, indoor };
  return {
    id: group[0]!.part.readingId,
    readingIds: group.map((one) => one.part.readingId),
    ...whose,
    start: timed ? instant(Math.min(...members.map((one) => one.startMs))) : best.part.reading.start,
    end: timed ? instant(Math.max(...members.map((one) => one.endMs))) : best.part.reading.end,
    ...ground,
    ...weighRide(ground, bike, weights),
    quality: terrain.quality,
    distanceM: Math.max(...readings.map((reading) => reading.distanceM)),
    ascentM: best.part.reading.ascentM,
    descentM: best.part.reading.descentM,
    damage: readings.map((reading) => reading.damage).find((damage) => damage !== null) ?? null,
    question: questionOf(group, whose),
    otherRideId: null,
    dismissed: false,
  };
}

function questionOf(group: readonly Placed[], whose: Attribution): Question | null {
  const untimed = group.find((one) => !isTimed(one.part));
  if (untimed) return untimed.part.reading.question;
  const isUnclear = (one: Placed): boolean => one.part.reading.question === 'sport-unclear';
  if (group.every(isUnclear) && saidOf(group, 'sport-unclear') === undefined) return 'sport-unclear';
  const inVehicle = group.some((one) => one.part.reading.doubtful !== null);
  if (inVehicle && saidOf(group, 'vehicle') === undefined) return 'vehicle';
  if (whose.bikeId !== null) return null;
  return whose.riderId === null ? 'who' : 'which-bike';
}

/** Returns whose ride it is by the strongest word on any of its recordings; two that contradict leave the bike open. */
function attributionOf(group: readonly Placed[]): Attribution {
  const rank = (one: Placed): number => {
    if (one.part.answer.bikeId !== undefined) return -1;
    return one.attribution.bikeRule === null
      ? BIKE_RULES.length
      : BIKE_RULES.indexOf(one.attribution.bikeRule);
  };
  const inOrder = [...group].sort((a, b) => rank(a) - rank(b));
  const strongest = inOrder[0]!;
  const riderId = inOrder.map((one) => one.attribution.riderId).find((id) => id !== null) ?? null;
  const contradicts = inOrder.some(
    (one) => rank(one) === rank(strongest) && one.attribution.bikeId !== strongest.attribution.bikeId,
  );
  return contradicts ? { riderId, bikeId: null, bikeRule: null } : { ...strongest.attribution, riderId };
}
