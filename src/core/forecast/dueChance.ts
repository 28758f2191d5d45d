import type { Day } from '../../units.js';
import { addMonths, dayOf } from '../days/calendar.js';
import type { Standing } from '../ledger/due.js';
import { isReached } from '../states.js';
import type { ServiceKind, State } from '../tokens.js';
import { chanceReachedBy, type HoursForecast } from './forecast.js';

/** A standing with what was foreseen of its hours, and the clocks that its job restarts. */
export interface ForeseenChance {
  readonly standing: Standing;
  /** Without days where nothing is foretold. */
  readonly forecast: Partial<HoursForecast>;
  readonly restarts: readonly ServiceKind[];
}

/** Only of these is known when they fall due. */
const FORESEEABLE: readonly State[] = ['due', 'over-interval', 'coming-up', 'in-time'];

export const isForeseeable = ({ standing }: ForeseenChance): boolean => FORESEEABLE.includes(standing.state);

/** Returns the day on which the months of the service period end, or null where no months apply. */
export const monthsEnd = ({ periodStart, interval }: Standing): Day | null =>
  periodStart === null || interval.months === null ? null : addMonths(periodStart, interval.months);

/** Returns the chance that a service has fallen due by the end of a day: months are certain, hours are foreseen. */
export function chanceDueBy(foreseen: ForeseenChance, by: Day, zone: string): number {
  const { standing, forecast } = foreseen;
  if (!isForeseeable(foreseen)) return 0;
  if (isReached(standing.state)) return 1;
  const byMonths = monthsEnd(standing);
  if (byMonths !== null && byMonths <= by) return 1;
  const { quantileDays, likely, weeksOfRides } = forecast;
  if (!quantileDays || !likely || weeksOfRides === undefined) return 0;
  const madeOn = dayOf(standing.asOf, zone);
  return by < madeOn ? 0 : chanceReachedBy({ quantileDays, likely, weeksOfRides }, madeOn, by);
}
