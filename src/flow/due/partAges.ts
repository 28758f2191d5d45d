import { dayOf } from '../../core/days/calendar.js';
import { type ChargedRide, type Hours, NO_HOURS, plusHours } from '../../core/ledger/hours.js';
import { AGED_PARTS, type AgedPart, type PartStay, partStays } from '../../core/ledger/partAge.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant } from '../../units.js';
import type { UnitLedger } from '../unitLedger.js';
import { listAllCharged } from './listCharged.js';

/** How old a part is now. */
export interface PartAge {
  readonly part: AgedPart;
  /** Since it was new; null where that is unknown until a service says *new*. */
  readonly hours: Hours | null;
  /** 1 for the first time in, 2 once put back. */
  readonly round: number;
}

/** Returns what a part has run since it was new. */
export const hoursSince = ({ from, to }: PartStay, charged: readonly ChargedRide[]): Hours =>
  from === null
    ? NO_HOURS
    : charged.filter(({ start }) => start >= from && (to === null || start < to)).reduce(plusHours, NO_HOURS);

/** Returns the age of a unit's rings and wipers; a shock has no rings. */
export async function listPartAges(tx: Tx, ledger: UnitLedger, now: Instant): Promise<PartAge[]> {
  const { unit, fittings, services, zone } = ledger;
  const today = dayOf(now, zone);
  const parts = AGED_PARTS.filter((part) => part !== 'foamRings' || unit.unitKind === 'fork');
  const stays = parts.map((part) => ({
    part,
    stay: partStays({ unit, fittings, services, part, today, zone }).at(-1)!,
  }));
  const starts = stays.flatMap(({ stay: { from } }) => (from === null ? [] : [from]));
  const { charged } =
    starts.length === 0
      ? { charged: [] }
      : await listAllCharged(tx, ledger, now, instant(Math.min(...starts)));
  return stays.map(({ part, stay }) => ({
    part,
    hours: stay.gap === null ? hoursSince(stay, charged) : null,
    round: stay.round,
  }));
}
