/** Which bike a recording was ridden on, and by which rule; everything else goes to the tray. */
import type { Instant } from '../../units.js';
import type { Sensor } from '../ground/samples/recording.js';
import type { Bike, Fitting } from '../ledger/ledger.js';
import { bikeTypesOf } from '../subSports.js';
import { BIKE_RULES, type BikeRule } from '../tokens.js';
import { type RecorderUse, riderOfRecorder } from './recorder.js';

/** A place in the order in which things were said: by time, and within one moment by the last fact until then. */
export interface Said {
  readonly at: Instant;
  readonly seq: number;
}

const inOrder = (a: Said, b: Said): number => a.at - b.at || a.seq - b.seq;

/** What is known about bikes when rides are settled. */
export interface BikeKnowledge {
  getBike(bikeId: string): Bike | undefined;
  /** All of a rider's, each with when it was entered and when a suspension unit first was entered as fitted to it. */
  listBikesOf(riderId: string): readonly KnownBike[];
  /** In any order. */
  listConfirmations(sensorId: string): readonly SensorConfirmation[];
  /** Of one rider's recordings with a profile of that name on the recorder; in any order. */
  listProfileConfirmations(riderId: string, profile: string): readonly SensorConfirmation[];
  /** A rider a line, of whom somebody said that rides with this recorder are theirs; in any order. */
  listRecorderUses(recorder: string): readonly RecorderUse[];
}

export interface KnownBike {
  readonly bike: Bike;
  readonly since: Said;
  /** Null for a bike that never had suspension. */
  readonly suspendedSince: Said | null;
  /** When a unit was on it, by the fittings as they stand. */
  readonly fitted: readonly Pick<Fitting, 'from' | 'to'>[];
  /** From then on it is another's; left out: never. */
  readonly soldAt?: Instant;
  /** From then on the rider takes it for rides of which nothing else tells the bike; left out: never. */
  readonly usualFrom?: Instant;
}

/** Whether a unit was on the bike then. */
export const wasFitted = ({ fitted }: KnownBike, at: Instant): boolean =>
  fitted.some(({ from, to }) => from <= at && (to === null || at < to));

/** A recording whose bike a person named, and which carried the sensor or the name of the profile. */
export interface SensorConfirmation {
  readonly bikeId: string;
  readonly start: Instant;
  readonly end: Instant;
}

/** The bike that a handing-over named; null for a folder that is named like no bike we know. */
export interface NamedBike {
  readonly bikeId: string | null;
  readonly rule: 'chosen' | 'subfolder';
}

export interface Attribution {
  readonly riderId: string | null;
  /** The recorder alone says whose it is; left out where anything else does. */
  readonly riderRule?: 'recorder';
  readonly bikeId: string | null;
  readonly bikeRule: BikeRule | null;
}

/**
 * Returns the bike that a sensor has been taught, or null before two confirmed rides.
 * A ride goes by the two confirmations before it, so that moving a sensor to another bike leaves older rides alone;
 * where there are fewer, by the first two there are.
 */
export function bikeOfSensor(confirmations: readonly SensorConfirmation[], at: Instant): string | null {
  const rides = confirmedRides(confirmations);
  const before = rides.filter((one) => one.start <= at);
  const pair = before.length >= 2 ? before.slice(-2) : rides.slice(0, 2);
  return pair.length === 2 && pair[0]!.bikeId === pair[1]!.bikeId ? pair[0]!.bikeId : null;
}

/** So many confirmed rides with a profile are looked at, the latest before a ride. */
const PROFILE_LOOKS_BACK = 5;
/** From so many on, one that was on another bike is an exception and changes nothing. */
const ENOUGH_FOR_EXCEPTION = 4;

/**
 * Returns the bike that the name of a recorder's profile stands for, from the first confirmed ride on; null where riders
 * put it on several. Older rides go by the first that were confirmed.
 */
export function bikeOfProfile(confirmations: readonly SensorConfirmation[], at: Instant): string | null {
  const rides = confirmedRides(confirmations);
  const before = rides.filter((one) => one.start <= at);
  const looked = before.length > 0 ? before.slice(-PROFILE_LOOKS_BACK) : rides.slice(0, PROFILE_LOOKS_BACK);
  const counts = new Map<string, number>();
  for (const { bikeId } of looked) counts.set(bikeId, (counts.get(bikeId) ?? 0) + 1);
  const [first] = [...counts].sort(([, a], [, b]) => b - a);
  if (first === undefined) return null;
  const exceptions = looked.length - first[1];
  const isClear = exceptions === 0 || (exceptions === 1 && looked.length >= ENOUGH_FOR_EXCEPTION);
  return isClear ? first[0] : null;
}

/** Two recorders on one ride confirm once. */
function confirmedRides(confirmations: readonly SensorConfirmation[]): SensorConfirmation[] {
  const sorted = [...confirmations].sort((a, b) => a.start - b.start || (a.bikeId < b.bikeId ? -1 : 1));
  const rides: SensorConfirmation[] = [];
  const endOf = new Map<string, number>();
  for (const one of sorted) {
    const until = endOf.get(one.bikeId) ?? Number.NEGATIVE_INFINITY;
    if (one.start >= until) rides.push(one);
    endOf.set(one.bikeId, Math.max(until, one.end));
  }
  return rides;
}

function bikeBySensors(sensors: readonly Sensor[], at: Instant, known: BikeKnowledge): string | null {
  const bikes = new Set<string>();
  for (const sensor of sensors) {
    if (sensor.boundTo === 'rider') continue;
    const bikeId = bikeOfSensor(known.listConfirmations(sensor.id), at);
    if (bikeId !== null) bikes.add(bikeId);
  }
  return bikes.size === 1 ? [...bikes][0]! : null;
}

interface RideOfRider {
  readonly subSport: string | null;
  readonly start: Instant;
}

type Default = { readonly bikeId: string; readonly bikeRule: 'ride-type' | 'only-suspended' };

function bikeByDefault(
  bikes: readonly KnownBike[],
  { subSport, start }: RideOfRider,
  asOf: Said,
): Default | null {
  const isKnown = (since: Said | null): boolean => since !== null && inOrder(since, asOf) <= 0;
  const known = bikes.filter((one) => isKnown(one.since) && start < (one.soldAt ?? Number.POSITIVE_INFINITY));
  for (const type of bikeTypesOf(subSport)) {
    const ofType = known.filter(({ bike }) => bike.type === type);
    if (ofType.length === 1) return { bikeId: ofType[0]!.bike.id, bikeRule: 'ride-type' };
    if (ofType.length > 1) return null;
  }
  const all = known.filter((one) => isKnown(one.suspendedSince));
  // Of several, only those that had a unit then can be charged.
  const suspended = all.length > 1 ? all.filter((one) => wasFitted(one, start)) : all;
  return suspended.length === 1 ? { bikeId: suspended[0]!.bike.id, bikeRule: 'only-suspended' } : null;
}

/** The first that was found from the arrival on, so that a bike entered later leaves alone what had found one. */
function firstDefault(bikes: readonly KnownBike[], ride: RideOfRider, arrived: Said): Default | null {
  const entered = bikes
    .flatMap(({ since, suspendedSince }) => (suspendedSince === null ? [since] : [since, suspendedSince]))
    .filter((said) => inOrder(said, arrived) > 0);
  // What was entered in one moment was entered together.
  const moments = [...new Set(entered.map(({ at }) => at))].sort((a, b) => a - b);
  let unfitted: Default | null = null;
  for (const asOf of [arrived, ...moments.map((at) => ({ at, seq: Number.POSITIVE_INFINITY }))]) {
    const found = bikeByDefault(bikes, ride, asOf);
    const isClear = found?.bikeRule === 'ride-type' || isFittedThen(bikes, found, ride.start);
    if (found && isClear) return found;
    unfitted ??= found;
  }
  // One that had no unit then is charged with nothing, and gives way to one that had.
  return unfitted;
}

/** The bike that the rider takes as a rule at the time of a ride, by the last word; null where nobody said. */
function usualBike(bikes: readonly KnownBike[], start: Instant): string | null {
  const usual = bikes
    .filter(
      ({ usualFrom, soldAt }) =>
        usualFrom !== undefined && usualFrom <= start && start < (soldAt ?? Infinity),
    )
    .sort((a, b) => b.usualFrom! - a.usualFrom! || (a.bike.id < b.bike.id ? -1 : 1));
  return usual[0]?.bike.id ?? null;
}

const isFittedThen = (bikes: readonly KnownBike[], found: Default | null, start: Instant): boolean =>
  bikes.some((one) => one.bike.id === found?.bikeId && wasFitted(one, start));

/**
 * Returns what the handings-over say together, without a bike where they contradict each other; null where they say
 * nothing. A choice does not overrule a folder, and one person's choice not another's.
 */
export function bikeByWord(named: readonly NamedBike[]): NamedBike | null {
  const clear = new Set(named.map((one) => one.bikeId).filter((bikeId) => bikeId !== null));
  const isChosen = named.some(
    ({ bikeId, rule }) => rule === 'chosen' && (bikeId !== null || clear.size === 0),
  );
  const rule = isChosen ? 'chosen' : 'subfolder';
  if (named.length === 0) return null;
  return { bikeId: clear.size === 1 ? [...clear][0]! : null, rule };
}

/** What one recording says of its rider and bike. */
export interface OwnWord extends Attribution {
  /** Place of the rule among the rules, 0 the strongest: of a folder that is clear to nobody, its own. */
  readonly strength: number;
}

const NOTHING_SAID: number = BIKE_RULES.length;

/**
 * Returns rider and bike of one recording with the rule that found the bike. Where nobody said whose it is, its recorder may.
 * A bike that a person named comes first; then a taught sensor, the recorder's profile; then the only bike of the ride's
 * type, the only suspended one, the one that its rider takes as a rule. Handings-over that contradict each other leave it open; a folder that is no bike we know leaves it to a sensor.
 */
export function attribute(
  said: {
    readonly riderId: string | null;
    readonly named: readonly NamedBike[];
    readonly sensors: readonly Sensor[];
    readonly profile: string | null;
    /** Its serial number under a key; null where it has none. */
    readonly recorder: string | null;
    readonly subSport: string | null;
    readonly start: Instant;
    readonly arrived: Said;
  },
  known: BikeKnowledge,
): OwnWord {
  const word = bikeByWord(said.named);
  // Whoever names a bike says whose ride it is, and that it may be nobody's.
  const isAsked = said.riderId === null && (word === null || word.bikeId === null);
  const byRecorder =
    isAsked && said.recorder !== null
      ? riderOfRecorder(known.listRecorderUses(said.recorder), said.start)
      : null;
  const riderId = said.riderId ?? byRecorder;
  const by = byRecorder === null ? {} : { riderRule: 'recorder' as const };
  const onBike = (bikeId: string, bikeRule: BikeRule): OwnWord => ({
    riderId: riderId ?? known.getBike(bikeId)?.riderId ?? null,
    ...by,
    bikeId,
    bikeRule,
    strength: BIKE_RULES.indexOf(bikeRule),
  });
  const open = (strength = NOTHING_SAID): OwnWord => ({
    riderId,
    ...by,
    bikeId: null,
    bikeRule: null,
    strength,
  });
  if (word !== null && word.bikeId !== null) return onBike(word.bikeId, word.rule);
  const isContradicted = said.named.some((one) => one.bikeId !== null);
  if (word !== null && isContradicted) return open(BIKE_RULES.indexOf(word.rule));
  const bySensor = bikeBySensors(said.sensors, said.start, known);
  if (bySensor !== null) return onBike(bySensor, 'sensor');
  if (riderId === null || word !== null) return open();
  const byProfile =
    said.profile === null
      ? null
      : bikeOfProfile(known.listProfileConfirmations(riderId, said.profile), said.start);
  if (byProfile !== null) return onBike(byProfile, 'profile');
  const own = known.listBikesOf(riderId);
  const byDefault = firstDefault(own, said, said.arrived);
  if (byDefault) return onBike(byDefault.bikeId, byDefault.bikeRule);
  const usual = usualBike(own, said.start);
  return usual === null ? open() : onBike(usual, 'usual');
}
