import { dayOf } from '../../core/days/calendar.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { listJobs, type ShownJob } from './jobs.js';
import { listLeads, type ShownLead } from './listLeads.js';

/** So many jobs that are asked for, and so many that are booked, are looked at. */
const JOBS_LISTED = 40;

/** What is at the workshop, what comes today, and which days are taken. */
export interface BenchPage {
  readonly jobs: readonly ShownJob[];
  /** Booked for today, and not there yet. */
  readonly comes: readonly ShownLead[];
  /** Those of the first days. */
  readonly leads: readonly ShownLead[];
  /** Later days are taken too. */
  readonly isMore: boolean;
}

export async function getBenchPage(tx: Tx, now: Instant): Promise<BenchPage> {
  const jobs = await listJobs(tx, now);
  const today = dayOf(now, (await getWorkshop(tx)).timeZone);
  const there = new Set(jobs.map(({ one }) => one.unit.tag));
  const comes = await listLeads(tx, now, undefined, await tx.leads.listOn('booked', today));
  const { leads, isMore } = await firstDays(tx);
  return {
    ...{ jobs, comes: comes.filter(({ unit }) => !there.has(unit)) },
    ...{ leads: await listLeads(tx, now, undefined, leads), isMore },
  };
}

/** The first days whole; where one day has more jobs than are listed, as many of it as are. */
async function firstDays(tx: Tx): Promise<{ readonly leads: readonly LeadRow[]; readonly isMore: boolean }> {
  const all: LeadRow[] = [];
  let [firstCut, isMore] = ['9999-12-31', false];
  for (const state of ['asked-for', 'booked'] as const) {
    const rows = (await tx.leads.listByDay(state, JOBS_LISTED + 1)).filter(({ day }) => day !== null);
    const cut = rows[JOBS_LISTED]?.day ?? null;
    if (cut !== null) isMore = true;
    if (cut !== null && cut < firstCut) firstCut = cut;
    all.push(...rows.slice(0, JOBS_LISTED));
  }
  if (!isMore) return { leads: all, isMore };
  const whole = all.filter(({ day }) => day! < firstCut);
  return { leads: whole.length > 0 ? whole : all.filter(({ day }) => day === firstCut), isMore };
}
