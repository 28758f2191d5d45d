/** What an hour weighs on rides that were ridden: an example of each ground, and a range for each kind of ride. */

import { quantile } from '../chance/quantile.js';
import { GOOD_QUALITY } from '../ledger/explain.js';
import { GROUND_SEVERITY, groundAt } from '../ledger/weight.js';
import type { BikeType, Ground } from '../tokens.js';

/** A ride as it weighs, without a mark for wet. Units: seconds. */
export interface WeighedRide {
  readonly kind: BikeType;
  readonly severity: number;
  /** Of its elevation; null without any. */
  readonly quality: number | null;
  readonly movingS: number;
  readonly weight: number;
}

/** Shorter rides say little. */
const LEAST_S = 1200;
/** Fewer rides give no range. */
export const LEAST_RIDES = 5;

/** Whether a ride is long enough, and its elevation good. */
export const saysMuch = ({ quality, movingS }: WeighedRide): boolean =>
  quality !== null && quality >= GOOD_QUALITY && movingS >= LEAST_S;

/** Returns the ride that is most like a ground; undefined where none is on it and has good elevation. */
export function exampleOf<R extends WeighedRide>(rides: readonly R[], ground: Ground): R | undefined {
  const off = ({ severity }: WeighedRide): number => Math.abs(Math.log(severity / GROUND_SEVERITY[ground]));
  return rides
    .filter((ride) => saysMuch(ride) && groundAt(ride.severity) === ground)
    .sort((a, b) => off(a) - off(b))[0];
}

/** What an hour weighs on rides of a kind: in the middle, and for eight rides of ten. */
export interface KindScale {
  readonly kind: BikeType;
  readonly rides: number;
  /** Null where too few rides are known. */
  readonly range: { readonly low: number; readonly middle: number; readonly high: number } | null;
}

/** Returns a scale for each kind that was ridden, the one that weighs least first; rides without elevation say none. */
export function kindScales(rides: readonly WeighedRide[]): KindScale[] {
  const known = rides.filter(saysMuch);
  return [...new Set(known.map(({ kind }) => kind))]
    .map((kind): KindScale & { readonly at: number } => {
      const weights = Float64Array.from(
        known.filter((ride) => ride.kind === kind).map(({ weight }) => weight),
      );
      const [low, middle, high] = [0.1, 0.5, 0.9].map((share) => quantile(weights, share)) as [
        number,
        number,
        number,
      ];
      const range = weights.length < LEAST_RIDES ? null : { low, middle, high };
      return { kind, rides: weights.length, range, at: middle };
    })
    .sort((a, b) => a.at - b.at)
    .map(({ at: _, ...scale }) => scale);
}
