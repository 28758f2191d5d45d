import { dayOf, startOfDay } from '../../core/days/calendar.js';
import { monthsEnd } from '../../core/forecast/dueChance.js';
import { type HoursCurve, hoursCurves } from '../../core/ledger/hoursCurve.js';
import { type Period, periodsOf } from '../../core/ledger/period.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Day, type Instant, instant } from '../../units.js';
import type { UnitLedger } from '../unitLedger.js';
import { listAllCharged } from './listCharged.js';
import { listRunningHours, type PeriodHours } from './periodHours.js';

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

/** What was ridden on a unit, as its page shows it. */
export interface UnitPast {
  /** For each service kind of which anything is counted, in the order of `standings`. */
  readonly curves: readonly UnitCurve[];
  /** The service periods that run. */
  readonly running: readonly PeriodHours[];
}

/** Returns what was ridden on a unit; its rides are read once. */
export async function getUnitPast(
  tx: Tx,
  ledger: UnitLedger,
  standings: readonly StandingRow[],
  now: Instant,
): Promise<UnitPast> {
  const { unit, fittings, services, zone } = ledger;
  const today = dayOf(now, zone);
  const lookedBack = startOfDay(dayOf(instant(now - LOOKED_BACK_MS), zone), zone);
  const periodsOfKind = ({ serviceKind }: StandingRow): Period[] =>
    periodsOf({ unit, fittings, services, serviceKind, today, zone }).filter(
      ({ to }) => to === null || to > lookedBack,
    );
  const starts = standings.flatMap(periodsOfKind).map((period) => (period.isKnown ? (period.from ?? 0) : 0));
  const all = await listAllCharged(tx, ledger, now, instant(Math.min(now, ...starts)));
  const curves = standings
    .map((standing) => ({
      standing,
      curves: hoursCurves(periodsOfKind(standing), all.charged, now),
      monthsEnd: standing.state === 'history-unknown' ? null : monthsEnd(standing),
    }))
    .filter((one) => one.curves.length > 0);
  return { curves, running: await listRunningHours(tx, ledger, now, all) };
}
