import { dayOf } from '../../core/days/calendar.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { listJobs, type ShownJob } from './jobs.js';
import { listLeads, type ShownLead } from './listLeads.js';

/** What is at the workshop, what comes today, and which days are taken. */
export interface BenchPage {
  readonly jobs: readonly ShownJob[];
  /** Booked for today, and not there yet. */
  readonly comes: readonly ShownLead[];
  readonly leads: readonly ShownLead[];
}

export async function getBenchPage(tx: Tx, now: Instant): Promise<BenchPage> {
  const jobs = await listJobs(tx, now);
  const leads = await listLeads(tx, now, ['asked-for', 'booked']);
  const today = dayOf(now, (await getWorkshop(tx)).timeZone);
  const there = new Set(jobs.map(({ one }) => one.unit.tag));
  const comes = leads.filter(
    ({ state, day, unit }) => state === 'booked' && day === today && !there.has(unit),
  );
  return { jobs, comes, leads };
}
