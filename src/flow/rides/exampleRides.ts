import type { Bike, Weights } from '../../core/ledger/ledger.js';
import { weighRide } from '../../core/ledger/rideWeight.js';
import { isCounted } from '../../core/rides/ride.js';
import { exampleOf, type KindScale, kindScales, type WeighedRide } from '../../core/scale/groundScale.js';
import { groundTypeOf } from '../../core/subSports.js';
import { GROUNDS, type Ground } from '../../core/tokens.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { msOf } from '../../units.js';
import { getWeights } from '../settings.js';
import { bikeOf } from '../unitLedger.js';
import { getRidePage, type RidePage } from './getRide.js';

/** So many are looked at: ids are random, so these are drawn from all, and the same each time. */
const LOOKED_AT = 500;

/** A ride that shows what a ground is. */
export interface ExampleRide {
  readonly ground: Ground;
  /** Null where no ride was on such ground. */
  readonly story: RidePage | null;
  /** What its hour weighs now, and with other weights; 0 where there is none. */
  readonly weight: number;
  readonly otherWeight: number;
}

export interface GroundExamples {
  readonly examples: readonly ExampleRide[];
  readonly kinds: readonly KindScale[];
}

type RideOnBike = WeighedRide & { readonly ride: RideRow; readonly bike: Bike | undefined };

/** Returns the workshop's own rides that explain the weights, and what an hour weighs by kind of ride. */
export async function getGroundExamples(tx: Tx, other?: Weights): Promise<GroundExamples> {
  const now = await getWeights(tx);
  const bikes = new Map((await tx.facts.list('bike')).map((fact) => [fact.entityId, bikeOf(fact)]));
  const weightOf = (ride: RideRow, bike: Bike | undefined, weights: Weights): number =>
    weighRide(ride, bike, weights).terrainMs / msOf(ride.movingS);
  const rides = (await tx.rides.page('', LOOKED_AT)).filter(
    (ride) => ride.source === 'recorded' && isCounted(ride) && ride.wet !== true && ride.movingS > 0,
  );
  const weighed = rides.map((ride): RideOnBike => {
    const bike = bikes.get(ride.bikeId!);
    const kind = groundTypeOf(ride.subSport) ?? bike?.type ?? 'other';
    const { severity, quality, movingS } = ride;
    return { ride, bike, kind, severity, quality, movingS, weight: weightOf(ride, bike, now) };
  });
  const examples: ExampleRide[] = [];
  for (const ground of GROUNDS) {
    const found = exampleOf(weighed, ground);
    examples.push({
      ground,
      story: found === undefined ? null : await getRidePage(tx, found.ride.id),
      weight: found?.weight ?? 0,
      otherWeight: found === undefined ? 0 : weightOf(found.ride, found.bike, other ?? now),
    });
  }
  return { examples, kinds: kindScales(weighed) };
}
