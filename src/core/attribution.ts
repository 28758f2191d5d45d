/** Which bike a recording was ridden on, and by which rule; everything else goes to the tray. */
import type { Instant } from '../units.js';
import type { Bike } from './ledger.js';
import type { Sensor } from './recording.js';
import type { BikeRule, BikeType } from './tokens.js';

/** What is known about bikes when rides are settled. */
export interface BikeKnowledge {
  getBike(bikeId: string): Bike | undefined;
  /** All of a rider's, each with when it was entered and when a suspension unit first was entered as fitted to it. */
  listBikesOf(riderId: string): readonly KnownBike[];
  /** In any order. */
  listConfirmations(sensorId: string): readonly SensorConfirmation[];
}

export interface KnownBike {
  readonly bike: Bike;
  readonly since: Instant;
  /** Null for a bike that never had suspension. */
  readonly suspendedSince: Instant | null;
}

/** A ride whose bike a person named, and which carried the sensor. */
export interface SensorConfirmation {
  readonly bikeId: string;
  readonly start: Instant;
}

export interface Attribution {
  readonly riderId: string | null;
  readonly bikeId: string | null;
  readonly bikeRule: BikeRule | null;
}

const TYPES_BY_SUB_SPORT: Readonly<Record<string, readonly BikeType[]>> = {
  road: ['road'],
  track_cycling: ['road'],
  gravel_cycling: ['gravel'],
  cyclocross: ['gravel'],
  mixed_surface: ['gravel'],
  mountain: ['trail', 'gravity'],
  e_bike_mountain: ['trail', 'gravity'],
  enduro: ['gravity', 'trail'],
  e_bike_enduro: ['gravity', 'trail'],
  downhill: ['gravity', 'trail'],
  bmx: ['other'],
};

/**
 * Returns the bike that a sensor has been taught, or null before two confirmations.
 * A ride goes by the two confirmations before it, so that moving a sensor to another bike leaves older rides alone;
 * where there are fewer, by the first two there are.
 */
export function bikeOfSensor(confirmations: readonly SensorConfirmation[], at: Instant): string | null {
  const inOrder = [...confirmations].sort((a, b) => a.start - b.start || (a.bikeId < b.bikeId ? -1 : 1));
  const before = inOrder.filter((c) => c.start <= at);
  const pair = before.length >= 2 ? before.slice(-2) : inOrder.slice(0, 2);
  return pair.length === 2 && pair[0]!.bikeId === pair[1]!.bikeId ? pair[0]!.bikeId : null;
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

type Default = { readonly bikeId: string; readonly bikeRule: 'ride-type' | 'only-suspended' };

function bikeByDefault(bikes: readonly KnownBike[], subSport: string | null, asOf: Instant): Default | null {
  const known = bikes.filter((one) => one.since <= asOf);
  for (const type of TYPES_BY_SUB_SPORT[subSport ?? ''] ?? []) {
    const ofType = known.filter(({ bike }) => bike.type === type);
    if (ofType.length === 1) return { bikeId: ofType[0]!.bike.id, bikeRule: 'ride-type' };
    if (ofType.length > 1) return null;
  }
  const suspended = known.filter((one) => one.suspendedSince !== null && one.suspendedSince <= asOf);
  return suspended.length === 1 ? { bikeId: suspended[0]!.bike.id, bikeRule: 'only-suspended' } : null;
}

const EVER = Number.MAX_SAFE_INTEGER as Instant;

/**
 * Returns rider and bike of one recording with the rule that found the bike.
 * A bike that a person named comes first, then a taught sensor, the only bike of the ride's type, the only suspended
 * one. The last two go by the bikes that were known when the file arrived, so that a new bike leaves old rides alone;
 * a recording that found no bike then goes by all there are now.
 */
export function attribute(
  said: {
    readonly riderId: string | null;
    readonly bike: { readonly bikeId: string; readonly rule: 'chosen' | 'subfolder' } | null;
    readonly sensors: readonly Sensor[];
    readonly subSport: string | null;
    readonly start: Instant;
    readonly arrivedAt: Instant;
  },
  known: BikeKnowledge,
): Attribution {
  const onBike = (bikeId: string, bikeRule: BikeRule): Attribution => ({
    riderId: said.riderId ?? known.getBike(bikeId)?.riderId ?? null,
    bikeId,
    bikeRule,
  });
  if (said.bike) return onBike(said.bike.bikeId, said.bike.rule);
  const bySensor = bikeBySensors(said.sensors, said.start, known);
  if (bySensor !== null) return onBike(bySensor, 'sensor');
  if (said.riderId === null) return { riderId: null, bikeId: null, bikeRule: null };
  const bikes = known.listBikesOf(said.riderId);
  const byDefault =
    bikeByDefault(bikes, said.subSport, said.arrivedAt) ?? bikeByDefault(bikes, said.subSport, EVER);
  return { riderId: said.riderId, bikeId: null, bikeRule: null, ...byDefault };
}
