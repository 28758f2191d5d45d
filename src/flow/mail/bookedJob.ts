import { fittingNow } from '../../core/ledger/ledger.js';
import type { BookedJob, BookedVisit, CalendarStamp } from '../../core/notices/mailContent.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

/** Returns the bike, units and jobs of a booking that has a day; null where its units are gone. */
export async function bookedVisitOf(
  tx: Tx,
  leads: readonly LeadRow[],
  now: Instant,
): Promise<BookedVisit | null> {
  const jobs: BookedJob[] = [];
  for (const lead of leads) {
    const job = await bookedJobOf(tx, lead, now);
    if (job) jobs.push(job);
  }
  const [first, ...also] = jobs;
  return first ? { ...first, also } : null;
}

async function bookedJobOf(tx: Tx, lead: LeadRow, now: Instant): Promise<BookedJob | null> {
  const { timeZone } = await getWorkshop(tx);
  const unit = await tx.facts.current('unit', lead.unitId);
  if (!unit || lead.day === null) return null;
  const { tag, unitKind } = unit.body;
  const fittings = (await tx.facts.list('fitting', { subject: lead.unitId })).map((fact) =>
    fittingOf(fact, timeZone),
  );
  const bikeId = fittingNow(fittings, now)?.bikeId;
  const bike = bikeId === undefined ? undefined : await tx.facts.current('bike', bikeId);
  return {
    bike: bike?.body.name ?? tag,
    tag,
    unitKind,
    serviceKind: lead.serviceKind,
    beside: lead.beside ?? [],
    day: lead.day,
  };
}

/** Returns the version of the calendar entry that a booking stands for. */
export const stampOf = (lead: LeadRow): CalendarStamp => ({
  uid: lead.calendarUid,
  sequence: lead.calendarSequence,
  stamp: lead.changedAt,
});
