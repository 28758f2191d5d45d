import { startOfDay } from '../core/calendar.js';
import type { Fact, HoursFact } from '../core/facts.js';
import type { Bike, Weights } from '../core/ledger.js';
import { CLAMP, FLEET_CLAMP, handTerrainOf } from '../core/weight.js';
import { ServiceError } from '../errors.js';
import type { RideRow, Tx } from '../ports.js';
import { instant, secondsOfMinutes } from '../units.js';
import type { Entry } from './fittings.js';
import { recountBikes } from './refreshDue.js';
import { getWeights, getWorkshop } from './settings.js';
import { getBike } from './unitLedger.js';

/** Returns hand-entered riding as a row among the rides, at the start of its day. */
export function handRideOf(fact: Fact<'hours'>, bike: Bike, weights: Weights, zone: string): RideRow {
  const { bikeId, on, minutes, ground } = fact.body;
  const movingS = secondsOfMinutes(minutes);
  const start = startOfDay(on, zone);
  const weighed = handTerrainOf(ground, movingS, { weights, clamp: bike.fleetId ? FLEET_CLAMP : CLAMP });
  return {
    id: fact.entityId,
    source: 'hand',
    readingIds: [],
    riderId: bike.riderId,
    bikeId,
    bikeRule: 'chosen',
    start,
    end: instant(start + movingS * 1000),
    day: on,
    movingS,
    terrainMs: weighed.terrainMs,
    severity: weighed.severity,
    quality: null,
    distanceM: 0,
    ascentM: null,
    descentM: null,
    subSport: null,
    indoor: false,
    damage: null,
    question: null,
    otherRideId: null,
    dismissed: false,
  };
}

/** Adds riding without a recorder. Returns the entry's id. */
export async function addHours(tx: Tx, body: HoursFact, entry: Entry): Promise<string> {
  if (!(body.minutes > 0 && body.minutes <= 24 * 60)) {
    throw new ServiceError(
      'refused',
      'enter hours',
      'The minutes must be more than 0 and at most 1440, a whole day.',
    );
  }
  const { timeZone } = await getWorkshop(tx);
  const fact = await tx.facts.add({ kind: 'hours', body, ...entry });
  const bike = await getBike(tx, body.bikeId);
  await tx.rides.put([handRideOf(fact, bike, await getWeights(tx), timeZone)]);
  await recountBikes(tx, [body.bikeId], entry.at);
  return fact.entityId;
}
