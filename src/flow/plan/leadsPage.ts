import { groupBy } from '../../core/groupBy.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { otherDays } from './leads.js';
import { listLeads, type ShownLead } from './listLeads.js';

/** What the page of bookings shows. */
export interface LeadsPage {
  readonly leads: readonly ShownLead[];
  /** How many of the latest that were declined are among them, and how many there are. */
  readonly declined: { readonly shown: number; readonly all: number };
  /** Other days by lead, for those that are asked for. */
  readonly offered: ReadonlyMap<string, readonly Day[]>;
}

/** Shape: `most` is how many of the latest declined ones are wanted. */
export async function getLeadsPage(tx: Tx, now: Instant, most: number): Promise<LeadsPage> {
  const live = await tx.leads.list(['asked-for', 'booked', 'open']);
  const declined = await tx.leads.listByDay('declined', most, true);
  const counted = { shown: declined.length, all: await tx.leads.count('declined') };
  return {
    leads: await listLeads(tx, now, undefined, [...live, ...declined]),
    declined: counted,
    offered: await offeredFor(tx, live, now),
  };
}

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
