import { type Instant, instant, type Seconds, thousandths } from '../../units.js';
import type { Terrain } from '../ground/samples/reading.js';
import type { Bike, Weights } from './ledger.js';
import { clampOn, type GroundPart, partsOf, priorOf, terrainOf, type WeighedTime } from './weight.js';

/** Of a ride, what its weight follows from. */
export interface WeighableRide {
  /** Null where nobody knows; then it is weighed as one of today. */
  readonly start: Instant | null;
  readonly terrain: Terrain | null;
  readonly movingS: Seconds;
  readonly subSport: string | null;
  readonly indoor: boolean;
  readonly wet?: true;
  /** Of a ride entered by hand: that of the ground that was named. */
  readonly severity?: number;
}

const LATEST = instant(Number.MAX_SAFE_INTEGER);

const NO_TERRAIN: Terrain = {
  classS: [],
  quality: null,
  witnessWeight: 0,
  witness: 0,
  gradientChange: null,
  noiseM: null,
};

/** Returns the severity that is assumed beforehand: of a ride by hand that of the ground that was named. */
const priorFor = ({ terrain, severity, subSport }: WeighableRide, bike: Bike | undefined): number =>
  (terrain === null ? severity : undefined) ?? priorOf(subSport, bike?.type ?? null);

/** Returns a ride as shares of its moving time by severity, which no weight changes. */
export const groundOf = (ride: WeighableRide, bike: Bike | undefined): GroundPart[] =>
  partsOf(ride.terrain ?? NO_TERRAIN, priorFor(ride, bike));

/** Returns what a ride weighs on its bike: rides indoors nothing, rides by hand by the ground that was named. */
export function weighRide(
  ride: WeighableRide,
  bike: Bike | undefined,
  weights: Weights,
): Omit<WeighedTime, 'weight'> {
  const { severity, groundMs, terrainMs } = terrainOf(ride.terrain ?? NO_TERRAIN, ride.movingS, {
    prior: priorFor(ride, bike),
    weights,
    clamp: clampOn(bike, ride.start ?? LATEST),
    wet: ride.wet === true,
  });
  const none = thousandths(0);
  return ride.indoor ? { severity, groundMs: none, terrainMs: none } : { severity, groundMs, terrainMs };
}
