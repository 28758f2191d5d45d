import { groupBy } from '../../core/groupBy.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { otherDays } from './leads.js';
import { listLeads, type ShownLead } from './listLeads.js';

/** What the page of bookings shows. */
export interface LeadsPage {
  readonly leads: readonly ShownLead[];
  /** Other days by lead, for those that are asked for. */
  readonly offered: ReadonlyMap<string, readonly Day[]>;
}

export async function getLeadsPage(tx: Tx, now: Instant): Promise<LeadsPage> {
  const live = await tx.leads.list(['asked-for', 'booked', 'open']);
  const declined = await tx.leads.listByDay('declined', DECLINED_SHOWN);
  return {
    leads: await listLeads(tx, now, undefined, [...live, ...declined]),
    offered: await offeredFor(tx, live, now),
  };
}

/** Declined jobs stay to be seen, and can be booked again. */
const DECLINED_SHOWN = 20;
const ANSWERED_AT_ONCE = 12;

async function offeredFor(tx: Tx, live: readonly LeadRow[], now: Instant): Promise<LeadsPage['offered']> {
  const offered = new Map<string, readonly Day[]>();
  const asked = groupBy(
    live.filter(({ state }) => state === 'asked-for'),
    ({ id }) => id,
  );
  for (const [id, rows] of [...asked].slice(0, ANSWERED_AT_ONCE))
    offered.set(id, await otherDays(tx, rows, now));
  return offered;
}
