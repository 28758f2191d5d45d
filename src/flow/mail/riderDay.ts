/** What riders do with the day of a visit: ask for it, move it, let it go. */
import { addDays } from '../../core/days/calendar.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { holdsPlace, jobsOfVisit, type VisitUnit, visitUnitOf } from '../../core/plan/leads.js';
import { AHEAD_DAYS } from '../../core/plan/slots.js';
import type { ServiceKind, UnitKind } from '../../core/tokens.js';
import type { Ids } from '../../ports/ids.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import type { Entry } from '../entry.js';
import { putVisit, todayAt } from '../plan/bookings.js';
import { hasPlace } from '../plan/leadDays.js';
import { bookVisit, missBooking, withdrawBooking } from '../plan/leads.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';
import { isPlaced, type LinkedUnit } from './answerLink.js';
import { bikeNow } from './bikeNow.js';
import { queueDayAsked, queueDayMoved, queueDayWithdrawn } from './kinds/dayAsked.js';

/** What a rider may still do with a visit. */
export type DayStand =
  /** No day yet. */
  | 'free'
  /** Asked for; the workshop has not answered. */
  | 'asked'
  | 'booked'
  /** It went by, and nobody said what came of it. */
  | 'passed'
  /** It is today, or the unit is there already: only the workshop changes it. */
  | 'settled';

/** Returns how the day of a unit stands. */
export function standOf({ lead, told }: LinkedUnit, today: Day): DayStand {
  if (told.standing.state === 'on-the-bench' || lead?.state === 'done') return 'settled';
  if (!isPlaced(lead)) return 'free';
  if (lead.day < today) return 'passed';
  if (lead.state === 'asked-for') return 'asked';
  return lead.day === today ? 'settled' : 'booked';
}

export type LinkAsked =
  /** `moved`: it was booked, and is on another day now. */
  | { readonly outcome: 'asked' | 'moved'; readonly day: Day }
  /** Somebody else was faster, or the workshop is closed then. */
  | { readonly outcome: 'taken' }
  /** The workshop has the say. */
  | { readonly outcome: 'call' };

/**
 * Asks for a day: holds its place until the workshop books or declines. A day that is booked moves at once, with all of its
 * visit. One place is never held twice.
 */
export async function askForDay(
  tx: Tx,
  of: LinkedUnit,
  day: Day,
  entry: Entry,
  ids: Ids,
  wish?: string,
): Promise<LinkAsked> {
  const { lead, unitId } = of;
  const today = await todayAt(tx, entry);
  const stand = standOf(of, today);
  if (stand === 'settled') return { outcome: 'call' };
  if (isPlaced(lead) && lead.day === day) return { outcome: stand === 'booked' ? 'moved' : 'asked', day };
  const isOffered = day > today && day <= addDays(today, AHEAD_DAYS);
  if (!isOffered) return { outcome: 'taken' };
  if (stand === 'booked' && isPlaced(lead)) return moveDay(tx, of, lead, day, entry, ids);
  const visit = await roomFor(tx, [{ unitId, jobs: jobsOfVisit(of) }], await listRest(tx, of, entry.at), day);
  if (visit === null) return { outcome: 'taken' };
  const { rows } = await putVisit(tx, { units: visit, day, ...(wish && { wish }) }, 'asked-for', entry, ids);
  await queueDayAsked(tx, rows[0]!.id, entry.at, ids);
  return { outcome: 'asked', day };
}

/** The workshop said yes to the visit, and its bench has room on the other day; it hears of it at once. */
async function moveDay(
  tx: Tx,
  of: LinkedUnit,
  { id, day: was }: LeadRow & { readonly day: Day },
  day: Day,
  entry: Entry,
  ids: Ids,
): Promise<LinkAsked> {
  const units = await listVisit(tx, of);
  if (!(await hasPlace(tx, units, day))) return { outcome: 'taken' };
  await bookVisit(tx, { units, day, bookingId: id }, entry, ids);
  await queueDayMoved(tx, { leadId: id, was, to: day }, entry.at, ids);
  return { outcome: 'moved', day };
}

/** One visit a bike: what else of it is open for its rider comes on the same day, where there is room. Null: none. */
async function roomFor(
  tx: Tx,
  units: readonly VisitUnit[],
  rest: readonly LeadRow[],
  day: Day,
): Promise<readonly VisitUnit[] | null> {
  if (!(await hasPlace(tx, units, day))) return null;
  let visit = units;
  for (const lead of rest) {
    const more = [...visit, visitUnitOf(lead)];
    if (await hasPlace(tx, more, day)) visit = more;
  }
  return visit;
}

/** What else of its bike is asked for with a unit, or is open. */
const listRest = (tx: Tx, of: LinkedUnit, now: Instant): Promise<LeadRow[]> => {
  const { lead } = of;
  const isMeant = (one: LeadRow): boolean => (isPlaced(lead) ? one.id === lead.id : one.state === 'open');
  return listRestOfVisit(tx, of, isMeant, now);
};

/** Returns a visit with the smaller job that alone is wanted, in place of the larger one. */
export const withSmaller = (of: LinkedUnit): LinkedUnit => ({
  ...of,
  serviceKind: of.told.standing.serviceKind,
  because: null,
});

/** What else of its bike the rider may ask for, or asked for, with a unit. */
async function listRestOfVisit(
  tx: Tx,
  { unitId, told }: Pick<LinkedUnit, 'unitId' | 'told'>,
  isMeant: (lead: LeadRow) => boolean,
  now: Instant,
): Promise<LeadRow[]> {
  const { timeZone } = await getWorkshop(tx);
  const { bikeId } = await bikeNow(tx, unitId, now, timeZone);
  const rest: LeadRow[] = [];
  for (const fact of bikeId === null ? [] : await tx.facts.list('fitting', { object: bikeId })) {
    const other = fact.body.unitId;
    if (other === unitId || !fittingNow([fittingOf(fact, timeZone)], now)) continue;
    const leads = await tx.leads.listOfUnit(other);
    const lead = leads.find((one) => one.riderId === told.riderId && isMeant(one));
    if (lead) rest.push(lead);
  }
  return rest;
}

/** Returns what a day has to have room for: the unit, and of a day that is booked all of its visit. */
export async function listVisit(tx: Tx, of: LinkedUnit): Promise<readonly VisitUnit[]> {
  const { lead, unitId } = of;
  if (lead?.state !== 'booked') return [{ unitId, jobs: jobsOfVisit(of) }];
  return (await tx.leads.listOf(lead.id)).filter(holdsPlace).map(visitUnitOf);
}

/** A job that comes on the same visit. */
export interface AlongJob {
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
}

/** Returns what else of the bike a day would be asked for, or is on that day. */
export async function listAlong(tx: Tx, of: LinkedUnit, now: Instant): Promise<AlongJob[]> {
  const along: AlongJob[] = [];
  for (const { unitId, serviceKind, beside = [] } of await listRest(tx, of, now)) {
    const unit = await tx.facts.current('unit', unitId);
    for (const job of unit ? jobsOfVisit({ serviceKind, beside }) : [])
      along.push({ tag: unit!.body.tag, unitKind: unit!.body.unitKind, serviceKind: job });
  }
  return along;
}

/**
 * Lets go of a day, with what else of the bike was to come on that visit; the workshop hears of it. Returns how the day
 * stood: of one that is free or settled nothing changes.
 */
export async function letDayGo(tx: Tx, of: LinkedUnit, entry: Entry, ids: Ids): Promise<DayStand> {
  const { lead } = of;
  const stand = standOf(of, await todayAt(tx, entry));
  if (stand === 'free' || stand === 'settled' || !isPlaced(lead)) return stand;
  const isMissed = stand === 'passed' && lead.state === 'booked';
  if (isMissed) await missBooking(tx, lead.id, entry, ids);
  else await withdrawBooking(tx, lead.id, entry, ids);
  const how = isMissed ? 'missed' : lead.state === 'booked' ? 'cancelled' : 'withdrawn';
  await queueDayWithdrawn(tx, { leadId: lead.id, day: lead.day, how }, entry.at, ids);
  return stand;
}
