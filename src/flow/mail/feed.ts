import type { FeedEntry } from '../../core/notices/mailContent.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { bookedJobOf, stampOf } from './bookedJob.js';

/** Returns every day booked or asked for, in order, for a calendar that the workshop reads along. */
export async function listFeed(tx: Tx, now: Instant): Promise<FeedEntry[]> {
  const entries: FeedEntry[] = [];
  for (const lead of await tx.leads.list(['asked-for', 'booked'])) {
    const job = await bookedJobOf(tx, lead, now);
    if (job) entries.push({ ...job, ...stampOf(lead), isBooked: lead.state === 'booked' });
  }
  return entries.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : a.tag < b.tag ? -1 : 1));
}
