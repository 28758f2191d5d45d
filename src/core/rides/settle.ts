/** Rides from recordings: which belong together, whose they are, what counts, and what a person must be asked. */

import { type Instant, instant } from '../../units.js';
import { asksAboutClimbs } from '../ground/climbs/dayClimbs.js';
import type { Bike, Weights } from '../ledger/ledger.js';
import { weighRide } from '../ledger/rideWeight.js';
import { BIKE_RULES, type Question } from '../tokens.js';
import {
  type Attribution,
  attribute,
  type BikeKnowledge,
  bikeByWord,
  type OwnWord,
  wasFitted,
} from './attribution.js';
import { wasHelped, wordOfBefore } from './climbWord.js';
import { hasBadClock, isTimed, joinRecordings, recordedOf, saidOf } from './joinRecordings.js';
import type { Part, Ride } from './ride.js';
import {
  byStart,
  type Doubt,
  dismissedOf,
  type Group,
  groupSame,
  isDismissed,
  linksOf,
  type Placed,
} from './rideGroups.js';

/** Returns the rides that any set of recordings makes; the order of `parts` does not matter. */
export function settleRides(parts: readonly Part[], known: BikeKnowledge, weights: Weights): Ride[] {
  const all = parts.map((part) => place(part, known)).sort(byStart);
  const untimed = all.filter(({ part }) => !isTimed(part));
  const timed = all.filter(({ part }) => isTimed(part));
  const links = linksOf(timed);
  const dismissed = dismissedOf(timed, links);
  const { groups, doubts } = groupSame(
    timed.filter((one) => !dismissed.has(one)),
    links,
  );
  const ride = (group: Group): Ride => rideOf(group, known, weights);
  return [
    ...untimed.map((one) => ({ ...ride([one]), dismissed: isDismissed(one.part) })),
    ...[...dismissed].map(([one, by]) => ({
      ...ride([one]),
      dismissed: true,
      otherRideId: by === one ? null : by.part.readingId,
    })),
    ...groups.map((group) => inDoubt(ride(group), doubts.get(group))),
  ];
}

const LONGEST_PROFILE = 60;

/** The name of the profile that was chosen on the recorder; null where there is none, or more than a name. */
export function profileOf({ recorder }: Part['reading']): string | null {
  const name = recorder?.profileName?.normalize('NFC').trim() ?? '';
  return name === '' || name.length > LONGEST_PROFILE ? null : name;
}

/** The bike that a person named for a recording that they did not dismiss, which is what teaches its sensors. */
export function namedBikeOf(part: Part): string | null {
  if (isDismissed(part)) return null;
  return part.answer.bikeId ?? bikeByWord(part.named)?.bikeId ?? null;
}

/** The recorder's serial number under the store's key, of which nobody can tell the number. */
export const recorderOf = ({ marks }: Part): string | null => marks?.recorder ?? null;

/** The rider whom a person named for a recording that they did not dismiss, which is what teaches its recorder. */
export function namedRiderOf(part: Part, known: Pick<BikeKnowledge, 'getBike'>): string | null {
  if (isDismissed(part)) return null;
  const bikeId = namedBikeOf(part);
  return (
    part.answer.riderId ?? part.riderId ?? (bikeId === null ? null : known.getBike(bikeId)?.riderId) ?? null
  );
}

/** Where a recording stands by itself: whose it is and when it was. */
export interface OwnPlace {
  readonly riderId: string | null;
  readonly bikeId: string | null;
  /** Null where neither its clock nor a person says when. */
  readonly start: Instant | null;
  readonly end: Instant | null;
}

export function ownPlaceOf(part: Part, known: BikeKnowledge): OwnPlace {
  const { attribution, startMs, endMs } = place(part, known);
  const { riderId, bikeId } = attribution;
  const timed = isTimed(part);
  return { riderId, bikeId, start: timed ? instant(startMs) : null, end: timed ? instant(endMs) : null };
}

/** When the recording began by its own clock or a person's word; null where neither can be believed. */
export const startOf = (part: Part): Instant | null =>
  isTimed(part)
    ? instant(hasBadClock(part.reading) ? part.answer.on! : (part.reading.start ?? part.answer.on!))
    : null;

function place(part: Part, known: BikeKnowledge): Placed {
  const { reading, answer } = part;
  const recorded = recordedOf(part);
  const attribution = attribute(
    {
      riderId: answer.riderId ?? part.riderId,
      named: answer.bikeId === undefined ? part.named : [{ bikeId: answer.bikeId, rule: 'chosen' }],
      sensors: reading.sensors,
      profile: profileOf(reading),
      recorder: recorderOf(part),
      subSport: reading.subSport,
      start: instant(recorded.startMs),
      arrived: part.arrived,
    },
    known,
  );
  const isAnswered = answer.bikeId !== undefined;
  return { ...recorded, attribution: isAnswered ? { ...attribution, strength: -1 } : attribution };
}

function inDoubt(ride: Ride, doubt: Doubt | undefined): Ride {
  if (!doubt) return ride;
  return { ...ride, question: ride.question ?? doubt.question, otherRideId: doubt.other[0]!.part.readingId };
}

/** Returns one ride from all its recordings: the union of their moving time, the ground of the best of them. */
function rideOf(group: Group, known: BikeKnowledge, weights: Weights): Ride {
  const whose = attributionOf(group);
  const bike = whose.bikeId === null ? undefined : known.getBike(whose.bikeId);
  const { members, best, movingS, terrain } = joinRecordings(group, bike);
  const readings = members.map((one) => one.part.reading);
  const { subSport } = best.part.reading;
  const timed = group.every((one) => isTimed(one.part));
  const indoor = readings.every((reading) => reading.indoor);
  const isWet = group.some(({ part }) => part.answer.wet === true);
  const start = timed ? instant(Math.min(...members.map((one) => one.startMs))) : best.part.reading.start;
  const ground = { start, terrain, movingS, subSport, indoor, ...(isWet ? { wet: true as const } : {}) };
  return {
    id: group[0]!.part.readingId,
    readingIds: group.map((one) => one.part.readingId),
    shiftsMs: group.map((one) => one.shiftMs),
    ...whose,
    end: timed ? instant(Math.max(...members.map((one) => one.endMs))) : best.part.reading.end,
    ...ground,
    ...weighRide(ground, bike, weights),
    quality: terrain.quality,
    distanceM: Math.max(...readings.map((reading) => reading.distanceM)),
    ascentM: best.part.reading.ascentM,
    descentM: best.part.reading.descentM,
    ...(group.some(({ part }) => part.leftAs !== undefined) ? { formerReader: true as const } : {}),
    damage: readings.map((reading) => reading.damage).find((damage) => damage !== null) ?? null,
    question: questionOf(group, { whose, known, movingS, best: best.part }),
    otherRideId: null,
    dismissed: false,
  };
}

interface AskedOf {
  readonly whose: Attribution;
  readonly known: BikeKnowledge;
  readonly movingS: number;
  readonly best: Part;
}

function questionOf(group: Group, { whose, known, movingS, best }: AskedOf): Question | null {
  const untimed = group.find((one) => !isTimed(one.part));
  if (untimed) return untimed.part.reading.question;
  const isLost = (one: Placed): boolean => one.part.leftAs === 'lost';
  if (group.every(isLost) && saidOf(group, 'not-in-file') === undefined) return 'not-in-file';
  const { members } = joinRecordings(group);
  const isSparse = ({ part }: Placed): boolean =>
    part.reading.question === 'too-sparse' && part.answer.minutes === undefined;
  if (members.some(isSparse) && saidOf(group, 'too-sparse') === undefined) return 'too-sparse';
  const isUnclear = (one: Placed): boolean => one.part.reading.question === 'sport-unclear';
  if (group.every(isUnclear) && saidOf(group, 'sport-unclear') === undefined) return 'sport-unclear';
  const inVehicle = group.some((one) => one.part.reading.doubtful !== null);
  if (inVehicle && saidOf(group, 'vehicle') === undefined) return 'vehicle';
  if (asksAboutRidden(group, best, movingS, known.getBike(whose.bikeId ?? ''))) return 'climbs';
  if (whose.bikeId !== null) return null;
  // Bikes that contradict each other: whoever tells the bike tells whose ride it is, if it is anybody's.
  const isNamed = group.some(({ part }) => part.named.some(({ bikeId }) => bikeId !== null));
  if (whose.riderId === null) return isNamed ? 'which-bike' : 'who';
  // Indoors nothing wears, whichever bike it was.
  if (!isNamed && group.every(({ part }) => part.reading.indoor)) return null;
  return isNamed || mayBeCharged(group, whose.riderId, known) ? 'which-bike' : null;
}

const hasWord = ({ reading, answer }: Part): boolean =>
  answer.climbs !== undefined || wordOfBefore(reading, answer) !== undefined;

function asksAboutRidden(group: Group, best: Part, movingS: number, bike: Bike | undefined): boolean {
  if (group.some(({ part }) => hasWord(part))) return false;
  if (saidOf(group, 'climbs') !== undefined) return false;
  const motor = group.some(({ part }) => wasHelped(part, bike));
  return asksAboutClimbs(best.reading.climbs ?? [], motor, movingS);
}

/** Whether any unit was on any of the rider's bikes then: else the ride is kept, and there is nothing to ask. */
function mayBeCharged(group: Group, riderId: string, known: BikeKnowledge): boolean {
  const at = instant(Math.min(...group.map((one) => one.startMs)));
  const isStray = group.some(({ part }) => part.named.length > 0);
  return isStray || known.listBikesOf(riderId).some((bike) => wasFitted(bike, at));
}

const BY_WORD: number = BIKE_RULES.indexOf('subfolder');

/** Returns whose ride it is by the strongest word on any of its recordings; two that contradict leave the bike open. */
function attributionOf(group: Group): Attribution {
  const inOrder = group.map((one) => one.attribution).sort((a, b) => a.strength - b.strength);
  const strongest = inOrder[0]!;
  const ofSomebody = inOrder.filter((one) => one.riderId !== null);
  const { riderId, riderRule } = ofSomebody.find((one) => one.riderRule === undefined) ??
    ofSomebody[0] ?? { riderId: null };
  const whose = { riderId, ...(riderRule && { riderRule }) };
  // A folder is a person's word as a choice is: one does not overrule the other.
  const isAsStrong = ({ strength }: OwnWord): boolean =>
    strength === strongest.strength || (strongest.strength >= 0 && strength <= BY_WORD);
  const contradicts = inOrder.some((one) => isAsStrong(one) && one.bikeId !== strongest.bikeId);
  if (contradicts) return { ...whose, bikeId: null, bikeRule: null };
  return { ...whose, bikeId: strongest.bikeId, bikeRule: strongest.bikeRule };
}
