import { canonical } from '../../core/canonical.js';
import type { AnswerFact } from '../../core/ledger/facts.js';
import type { BikeRule, Question } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, hoursOfThousandths, type Instant } from '../../units.js';

/** One word of a person on a ride. */
export interface RideWord {
  readonly by: string;
  readonly at: Instant;
  readonly rider: string | null;
  readonly bike: string | null;
  readonly ride: Readonly<Record<string, boolean>> | null;
  readonly on: Instant | null;
  readonly minutes: number | null;
}

/** How a recorded ride stands, by which rule it found its bike, and who said what of it when. */
export interface RideTold {
  readonly id: string;
  readonly start: Instant | null;
  readonly movingHours: number;
  readonly terrainHours: number;
  readonly rider: string | null;
  readonly bike: string | null;
  readonly bikeRule: BikeRule | null;
  /** It wears no suspension and counts for no unit. */
  readonly indoor: boolean;
  readonly question: Question | null;
  readonly dismissed: boolean;
  readonly said: readonly RideWord[];
}

/** Errors: `not-found`. */
export async function tellRide(tx: Tx, id: string): Promise<RideTold> {
  const ride = await tx.rides.find(id);
  if (ride?.source !== 'recorded') throw new ServiceError('not-found', `There is no recorded ride ${id}.`);
  const riders = await tx.handles.all('rider');
  const bikes = await tx.handles.all('bike');
  const handle = (
    handles: ReadonlyMap<string, string>,
    entityId: string | null | undefined,
  ): string | null => (entityId == null ? null : (handles.get(entityId) ?? null));
  // One word on a ride is kept with each of its recordings.
  const said = new Map<string, RideWord>();
  for (const readingId of ride.readingIds) {
    for (const fact of await tx.facts.history(readingId)) {
      const { riderId, bikeId, ride: yes = null, on = null, minutes = null } = fact.body as AnswerFact;
      const word: RideWord = {
        by: fact.recordedBy,
        at: fact.recordedAt,
        rider: handle(riders, riderId),
        bike: handle(bikes, bikeId),
        ride: yes,
        on,
        minutes,
      };
      said.set(canonical(word), word);
    }
  }
  return {
    id: ride.id,
    start: ride.start,
    movingHours: hoursOfSeconds(ride.movingS),
    terrainHours: hoursOfThousandths(ride.terrainMs),
    rider: handle(riders, ride.riderId),
    bike: handle(bikes, ride.bikeId),
    bikeRule: ride.bikeRule,
    indoor: ride.indoor,
    question: ride.question,
    dismissed: ride.dismissed,
    said: [...said.values()],
  };
}
