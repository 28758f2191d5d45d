import { dayOf, startOfDay } from '../core/calendar.js';
import { monthsEnd } from '../core/dueChance.js';
import { type HoursCurve, hoursCurves } from '../core/hoursCurve.js';
import { type Period, periodsOf } from '../core/period.js';
import type { StandingRow, Tx } from '../ports.js';
import { DAY_MS, type Day, type Instant, instant } from '../units.js';
import { listAllCharged } from './listCharged.js';
import { getWorkshop } from './settings.js';
import { getUnitLedger } from './unitLedger.js';

/** So far back service periods that ended are shown. */
const LOOKED_BACK_MS = 548 * DAY_MS;

/** How the hours of one service kind grew, and where they are foreseen to go. */
export interface UnitCurve {
  readonly standing: StandingRow;
  /** Oldest first; the last one is running. */
  readonly curves: readonly HoursCurve[];
  /** The day on which the months are up; null where none run. */
  readonly monthsEnd: Day | null;
}

/** Returns a curve for each service kind of a unit of which anything is counted, in the order of `standings`. */
export async function listUnitCurves(
  tx: Tx,
  unitId: string,
  standings: readonly StandingRow[],
  now: Instant,
): Promise<UnitCurve[]> {
  const { timeZone: zone } = await getWorkshop(tx);
  const { unit, fittings, services } = await getUnitLedger(tx, unitId, zone);
  const today = dayOf(now, zone);
  const lookedBack = startOfDay(dayOf(instant(now - LOOKED_BACK_MS), zone), zone);
  const periodsOfKind = ({ serviceKind }: StandingRow): Period[] =>
    periodsOf({ unit, fittings, services, serviceKind, today, zone }).filter(
      ({ to }) => to === null || to > lookedBack,
    );
  const starts = standings.flatMap(periodsOfKind).map((period) => (period.isKnown ? (period.from ?? 0) : 0));
  const { charged } = await listAllCharged(tx, unitId, now, instant(Math.min(now, ...starts)));
  return standings
    .map((standing) => ({
      standing,
      curves: hoursCurves(periodsOfKind(standing), charged, now),
      monthsEnd: standing.state === 'history-unknown' ? null : monthsEnd(standing),
    }))
    .filter(({ curves }) => curves.length > 0);
}
