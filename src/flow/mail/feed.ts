import { groupBy } from '../../core/groupBy.js';
import type { WorkshopFact } from '../../core/ledger/facts.js';
import type { FeedEntry } from '../../core/notices/mailContent.js';
import type { Seal } from '../../ports/seal.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { bookedVisitOf, stampOf } from './bookedJob.js';
import { isFeedPath } from './links.js';

/** Returns every day booked or asked for, in order, for a calendar that the workshop reads along. */
export async function listFeed(tx: Tx, now: Instant): Promise<FeedEntry[]> {
  const entries: FeedEntry[] = [];
  const rows = await tx.leads.list(['asked-for', 'booked']);
  for (const leads of groupBy(rows, ({ id }) => id).values()) {
    const [lead] = leads;
    const visit = await bookedVisitOf(tx, leads, now);
    if (lead && visit) entries.push({ ...visit, ...stampOf(lead), isBooked: lead.state === 'booked' });
  }
  return entries.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : a.tag < b.tag ? -1 : 1));
}

/** The bookings for a calendar, with whose they are. */
export interface FeedPage {
  readonly workshop: WorkshopFact;
  readonly entries: readonly FeedEntry[];
}

/** Returns the bookings where the mark is that of their address; else null. */
export async function findFeedPage(tx: Tx, seal: Seal, mark: string, now: Instant): Promise<FeedPage | null> {
  if (!(await isFeedPath(tx, seal, mark))) return null;
  return { workshop: await getWorkshop(tx), entries: await listFeed(tx, now) };
}
