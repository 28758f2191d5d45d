import { dayOf } from '../core/calendar.js';
import { type ChargedRide, type Hours, hoursIn } from '../core/hours.js';
import { type Period, periodsOf } from '../core/period.js';
import { serviceKindsOf } from '../core/serviceKinds.js';
import type { ServiceKind } from '../core/tokens.js';
import type { Tx } from '../ports.js';
import { type Day, type Instant, type Seconds, seconds } from '../units.js';
import { listAllCharged } from './listCharged.js';
import { getWorkshop, listAddedKinds } from './settings.js';
import { getUnitLedger } from './unitLedger.js';

/** One service period of a unit with what was ridden in it. */
export interface PeriodHours extends Hours {
  readonly serviceKind: ServiceKind;
  readonly period: Period;
  /** The day of the service that ended it; null while it runs. */
  readonly to: Day | null;
  /** How much of the moving time somebody entered by hand; the rest came from ride files or with the unit. */
  readonly byHandS: Seconds;
}

/** Returns every service period of a unit, by service kind, oldest first. */
export async function listPeriodHours(tx: Tx, unitId: string, now: Instant): Promise<PeriodHours[]> {
  const { timeZone: zone } = await getWorkshop(tx);
  const { unit, fittings, services } = await getUnitLedger(tx, unitId, zone);
  const { charged, rides } = await listAllCharged(tx, unitId, now);
  const today = dayOf(now, zone);
  const byHand = charged.filter(({ rideId }) => rides.get(rideId)?.source === 'hand');
  return serviceKindsOf(unit.unitKind, await listAddedKinds(tx)).flatMap(({ name: serviceKind }) =>
    periodsOf({ unit, fittings, services, serviceKind, today, zone }).map((period) => {
      // Of an unknown history the hours are those since the unit came.
      const counted = period.isKnown ? period : { ...period, from: null };
      return {
        serviceKind,
        period,
        to: period.to === null ? null : dayOf(period.to, zone),
        ...hoursIn(counted, charged),
        byHandS: enteredIn(counted, byHand),
      };
    }),
  );
}

/** What a period began with came with the unit, and was not entered as riding. */
const enteredIn = (period: Period, byHand: readonly ChargedRide[]): Seconds =>
  seconds(hoursIn(period, byHand).movingS - period.baseMovingS);
