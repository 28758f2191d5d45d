import { startOfDay } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import type { Bike, Weights } from '../../core/ledger/ledger.js';
import { weighRide } from '../../core/ledger/rideWeight.js';
import { GROUND_SEVERITY } from '../../core/ledger/weight.js';
import type { RideRow } from '../../ports/rides.js';
import { instant, msOf, secondsOfMinutes } from '../../units.js';

/** Returns hand-entered riding as a row among the rides, at the start of its day. */
export function handRideOf(fact: Fact<'hours'>, bike: Bike, weights: Weights, zone: string): RideRow {
  const { bikeId, on, minutes, ground } = fact.body;
  const start = startOfDay(on, zone);
  const named = {
    start,
    terrain: null,
    movingS: secondsOfMinutes(minutes),
    subSport: null,
    indoor: false,
    severity: GROUND_SEVERITY[ground],
  };
  return {
    id: fact.entityId,
    source: 'hand',
    readingIds: [],
    shiftsMs: [],
    riderId: bike.riderId,
    bikeId,
    bikeRule: 'chosen',
    end: instant(start + msOf(named.movingS)),
    day: on,
    ...named,
    ...weighRide(named, bike, weights),
    quality: null,
    distanceM: 0,
    ascentM: null,
    descentM: null,
    damage: null,
    question: null,
    otherRideId: null,
    dismissed: false,
  };
}
