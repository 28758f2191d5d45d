import { dayOf } from '../../core/days/calendar.js';
import { fittingNow, type Unit } from '../../core/ledger/ledger.js';
import { jobsOf } from '../../core/ledger/serviceKinds.js';
import { isLive } from '../../core/plan/leads.js';
import type { ServiceKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { type ForeseenUnit, listForeseenOf } from '../due/foreseen.js';
import { bikeNow } from '../mail/bikeNow.js';
import { getIdOf } from '../names.js';
import { getWorkshop, listAddedKinds } from '../settings.js';
import { fittingOf } from '../unitLedger.js';
import { findVisit } from './card.js';
import { listOfferedDays } from './leadDays.js';
import { isReached } from './listLeads.js';

/** One unit that may be booked, with the jobs that it has. */
export interface BookableUnit {
  readonly unit: Unit;
  readonly jobs: readonly ServiceKind[];
  /** What it comes for; null where nothing of it is due. */
  readonly coming: ServiceKind | null;
  /** Others of the same visit. */
  readonly beside: readonly ServiceKind[];
  /** The day that it has. */
  readonly day: Day | null;
}

/** What the page shows on which a unit, and what else is on its bike, is booked for a day. */
export interface BookingPage {
  readonly bike: string | null;
  /** Who hears of it; null for a bike of nobody in particular. */
  readonly rider: { readonly name: string; readonly isMailed: boolean } | null;
  /** The unit first. */
  readonly units: readonly BookableUnit[];
  readonly days: readonly Day[];
}

const DAYS_OFFERED = 6;

/** Errors: `not-found`. */
export async function getBookingPage(tx: Tx, tag: string, now: Instant): Promise<BookingPage> {
  const unitId = await getIdOf(tx, 'unit', tag);
  const { timeZone } = await getWorkshop(tx);
  const { bikeId, bike, riderId } = await bikeNow(tx, unitId, now, timeZone);
  const mates =
    bikeId === null
      ? []
      : (await tx.facts.list('fitting', { object: bikeId }))
          .filter((fact) => fittingNow([fittingOf(fact, timeZone)], now))
          .map(({ body }) => body.unitId);
  const all = await listForeseenOf(tx, now, [...new Set([unitId, ...mates])]);
  const rank = ({ unit }: ForeseenUnit): number => (unit.id === unitId ? 0 : 1);
  all.sort((a, b) => rank(a) - rank(b));
  const added = await listAddedKinds(tx);
  const units: BookableUnit[] = [];
  for (const one of all) {
    const lead = (await tx.leads.listOfUnit(one.unit.id)).find(isLive);
    const { job: coming, beside } = lead
      ? { job: lead.serviceKind, beside: lead.beside ?? [] }
      : await findVisit(tx, one, dayOf(now, timeZone));
    units.push({ unit: one.unit, jobs: jobsOf(one.unit, added), coming, beside, day: lead?.day ?? null });
  }
  const [first] = units;
  if (!first) throw new ServiceError('not-found', `There is no unit ${tag}.`);
  const jobs = [first.coming ?? first.jobs[0]!, ...first.beside];
  const wish = { units: [{ unitId, jobs }], count: DAYS_OFFERED };
  const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
  const rider = contact ? { name: contact.name, isMailed: isReached(contact) } : null;
  return { bike, rider, units, days: await listOfferedDays(tx, wish, now) };
}
