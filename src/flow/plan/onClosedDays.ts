import { minutesOn } from '../../core/plan/slots.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { benchOf } from './leadDays.js';

/** A unit with a day on which nobody works at the bench. */
export interface OnClosedDay {
  /** Its tag. */
  readonly unit: string;
  readonly day: Day;
}

/** Returns what is booked or asked for on days on which the bench is closed or nobody works, in order of days. */
export async function listOnClosedDays(tx: Tx, today: Day): Promise<OnClosedDay[]> {
  const bench = benchOf(await getWorkshop(tx));
  const leads = (await tx.leads.list(['asked-for', 'booked'])).filter(
    ({ day }) => day !== null && day >= today && minutesOn(bench, day) === 0,
  );
  const tags = await tx.handles.listOf('unit', [...new Set(leads.map(({ unitId }) => unitId))]);
  return leads
    .map(({ unitId, day }) => ({ unit: tags.get(unitId) ?? '', day: day! }))
    .sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}
