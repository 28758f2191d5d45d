import { dayOf } from '../../core/days/calendar.js';
import { isAskedWhetherItCame } from '../../core/plan/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { listComplaints, type RiderComplaint } from '../plan/comebacks.js';
import { listJobs, type ShownJob } from '../plan/jobs.js';
import { benchOf } from '../plan/leadDays.js';
import { listLeads, type ShownLead } from '../plan/listLeads.js';
import { getWorkshop } from '../settings.js';

/** What of the workshop's days has to do with today. */
export interface TodayWork {
  /** Booked for today, and not there yet. */
  readonly comes: readonly ShownLead[];
  /** Booked for a day that has passed: did it come? */
  readonly cameUnsaid: readonly ShownLead[];
  /** Jobs that are promised for today or were before, and are not done. */
  readonly promised: readonly ShownJob[];
  /** How many units are at the workshop. */
  readonly there: number;
  /** Jobs that changed, and whose riders have not answered. */
  readonly askedJobs: readonly ShownJob[];
  /** Riders who say that something is wrong since a service. */
  readonly complaints: readonly RiderComplaint[];
  /** Bikes on hire that were to be back by now. */
  readonly lateHires: readonly LateHire[];
  /** Units on loan that were to be back by now. */
  readonly lateLoans: readonly LateLoan[];
}

export interface LateLoan {
  readonly tag: string;
  readonly bike: string;
  readonly until: Day;
}

export interface LateHire {
  readonly bike: string;
  /** By its name in addresses; null where the bike is of no fleet any more. */
  readonly fleet: string | null;
  readonly until: Day;
}

export async function getTodayWork(tx: Tx, now: Instant): Promise<TodayWork> {
  const workshop = await getWorkshop(tx);
  const today = dayOf(now, workshop.timeZone);
  const jobs = await listJobs(tx, now);
  const there = new Set(jobs.map(({ one }) => one.unit.tag));
  const due = (await tx.leads.listByDay('booked', MOST_LOOKED_AT)).filter(
    ({ day }) => day !== null && day <= today,
  );
  const leads = (await listLeads(tx, now, undefined, due)).filter(({ unit }) => !there.has(unit));
  return {
    comes: leads.filter(({ day }) => day === today),
    cameUnsaid: leads.filter((lead) => isAskedWhetherItCame(lead, today, benchOf(workshop))),
    promised: jobs.filter(
      ({ stay: { job } }) =>
        job.promisedFor !== null &&
        job.promisedFor <= today &&
        job.step !== 'done' &&
        job.step !== 'informed',
    ),
    there: jobs.length,
    askedJobs: jobs.filter(({ question }) => question?.body.answer === 'asked'),
    complaints: await listComplaints(tx),
    lateHires: await listLateHires(tx, today),
    lateLoans: await listLateLoans(tx, today),
  };
}

/** The longest late first. */
async function listLateHires(tx: Tx, today: Day): Promise<LateHire[]> {
  const late: LateHire[] = [];
  for (const { body } of await tx.facts.list('hire')) {
    if (body.back !== null || body.until === null || body.until >= today) continue;
    const bike = (await tx.facts.current('bike', body.bikeId))?.body;
    if (!bike) continue;
    const fleet = bike.fleetId === null ? undefined : await tx.facts.current('fleet', bike.fleetId);
    late.push({ bike: bike.name, fleet: fleet?.body.handle ?? null, until: body.until });
  }
  return late.sort((a, b) => (a.until < b.until ? -1 : 1));
}

/** Units that are still on the bike that they were lent to; the longest late first. */
async function listLateLoans(tx: Tx, today: Day): Promise<LateLoan[]> {
  const late: LateLoan[] = [];
  for (const { body } of await tx.facts.listLoans()) {
    const { unitId, bikeId, loanUntil, to } = body;
    if (to !== null || loanUntil === undefined || loanUntil >= today) continue;
    const tag = (await tx.facts.current('unit', unitId))?.body.tag;
    const bike = (await tx.facts.current('bike', bikeId))?.body;
    if (tag !== undefined && bike) late.push({ tag, bike: bike.name, until: loanUntil });
  }
  return late.sort((a, b) => (a.until < b.until ? -1 : 1));
}

/** A booking ends by itself a week after the workshop is asked, so that more than these never wait. */
const MOST_LOOKED_AT = 100;
