/** Bookings: one day for one bike, with one or more services. Each step is a fact that takes the place of the one before. */
import { dayOf } from '../../core/days/calendar.js';
import type { BookedUnit, BookingFact, Fact } from '../../core/ledger/facts.js';
import { holdsPlace, isLive, type VisitUnit, visitUnitOf } from '../../core/plan/leads.js';
import type { BookingStep, ServiceKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Ids } from '../../ports/ids.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import type { Entry } from '../entry.js';
import { addFact, replaceFact } from '../facts/changeFact.js';
import { usualRestarts } from '../facts/enterFacts.js';
import { bikeNow } from '../mail/bikeNow.js';
import { getWorkshop } from '../settings.js';
import { benchMinutesOf } from './leadDays.js';

export interface WantedVisit {
  readonly units: readonly VisitUnit[];
  readonly day: Day;
  /** The booking that takes the day; left out: the one that these units have, or their bike on that day. */
  readonly bookingId?: string;
  /** Units that do not come along after all. */
  readonly without?: readonly string[];
  /** What the rider wrote with it. */
  readonly wish?: string;
}

const newCalendar = (ids: Ids): BookingFact['calendar'] => ({ uid: ids.uuid(), sequence: 0 });

/** Returns the last step of a booking. */
export const findBooking = (tx: Tx, id: string): Promise<Fact<'booking'> | undefined> =>
  tx.facts.current('booking', id);

/**
 * Takes a booking a step further. Shape: `seen` is the step that the person saw, where a person did.
 * Errors: `already-replaced` where it is no longer as it was seen.
 */
export async function stepBooking(
  tx: Tx,
  { id, entityId, body: before }: Fact<'booking'>,
  change: Partial<BookingFact> & { readonly step: BookingStep },
  entry: Entry,
  seen: string = id,
): Promise<readonly LeadRow[]> {
  const { offered: _, ...kept } = before;
  await replaceFact(tx, seen, { kind: 'booking', body: { ...kept, ...change } }, entry);
  return tx.leads.listOf(entityId);
}

/** What a visit becomes: the booking that takes it, as it stood, and what else had a day for these units. */
export interface PlacedVisit {
  readonly before: Fact<'booking'> | null;
  readonly rows: readonly LeadRow[];
  /** Bookings that lost all their units to it. */
  readonly emptied: readonly LeadRow[];
}

/** Gives a visit its day, asked for or booked; nobody asks here whether there is a place. */
export async function putVisit(
  tx: Tx,
  visit: WantedVisit,
  step: 'asked-for' | 'booked',
  entry: Entry,
  ids: Ids,
): Promise<PlacedVisit> {
  const { day, wish, without = [] } = visit;
  const [first] = visit.units;
  if (!first) throw new ServiceError('not-found', 'A visit is for one unit at least.');
  const { timeZone } = await getWorkshop(tx);
  const { bikeId, riderId } = await bikeNow(tx, first.unitId, entry.at, timeZone);
  const leads = await leadsOf(tx, visit.units);
  const before = await findTaking(tx, visit, { leads, bikeId, riderId, step });
  const units = await bookedUnits(tx, visit.units, leads);
  const emptied: LeadRow[] = [];
  for (const id of new Set(leads.filter(holdsPlace).map((lead) => lead.id)))
    if (id !== before?.entityId) emptied.push(...(await takeOut(tx, id, visit.units, entry)));
  const owner = { bikeId, riderId: riderId ?? leads.find(isLive)?.riderId ?? null };
  if (before === null) {
    const entityId = leads.find(({ state }) => state === 'open')?.id;
    const body = { step, day, ...owner, units, ...(wish && { wish }), calendar: newCalendar(ids) };
    const fact = { kind: 'booking', body, ...(entityId && { entityId }) } as const;
    const { entityId: id } = await addFact(tx, fact, entry);
    return { before, rows: await tx.leads.listOf(id), emptied };
  }
  const isGiven = (unitId: string): boolean =>
    without.includes(unitId) || units.some((unit) => unit.unitId === unitId);
  const all = [...units, ...before.body.units.filter((unit) => !isGiven(unit.unitId))];
  const change = { step, day, ...owner, units: all, ...(wish && { wish }) };
  return { before, rows: await stepBooking(tx, before, change, entry), emptied };
}

async function leadsOf(tx: Tx, units: readonly VisitUnit[]): Promise<LeadRow[]> {
  const leads: LeadRow[] = [];
  for (const { unitId } of units) leads.push(...(await tx.leads.listOfUnit(unitId)));
  return leads;
}

/** One day for one bike: what comes on a day when something of its bike is expected already joins that. */
async function findTaking(
  tx: Tx,
  { bookingId, day }: WantedVisit,
  of: {
    readonly leads: readonly LeadRow[];
    readonly bikeId: string | null;
    readonly riderId: string | null;
    readonly step: 'asked-for' | 'booked';
  },
): Promise<Fact<'booking'> | null> {
  const own = bookingId ?? of.leads.find(holdsPlace)?.id;
  if (own !== undefined) return (await findBooking(tx, own)) ?? null;
  if (of.bikeId === null) return null;
  const states = of.step === 'booked' ? (['booked', 'asked-for'] as const) : (['asked-for'] as const);
  for (const state of states) {
    const there = (await tx.leads.listOn(state, day)).find(
      ({ bikeId, riderId }) => bikeId === of.bikeId && riderId === of.riderId,
    );
    if (there) return (await findBooking(tx, there.id)) ?? null;
  }
  return null;
}

async function bookedUnits(
  tx: Tx,
  units: readonly VisitUnit[],
  leads: readonly LeadRow[],
): Promise<BookedUnit[]> {
  const booked: BookedUnit[] = [];
  for (const { unitId, jobs } of units) {
    const [serviceKind, ...others] = jobs;
    const standings = await tx.standings.listOf(unitId);
    const lead = leads.find((one) => isLive(one) && one.unitId === unitId && isFor(one, serviceKind));
    const standing = standings.find((one) => one.serviceKind === serviceKind) ?? standings[0];
    if (serviceKind === undefined || (!lead && !standing))
      throw new ServiceError('not-found', 'This unit has no service to book.');
    const included = await usualRestarts(tx, { unitId, serviceKind });
    const beside = others.filter((job) => job !== serviceKind && !included.includes(job));
    const benchMinutes = await benchMinutesOf(tx, unitId, [serviceKind, ...beside]);
    const { periodId, periodStart } = lead ?? standing!;
    booked.push({
      ...{ unitId, serviceKind, wanted: lead?.wanted ?? standing!.serviceKind },
      ...(beside.length > 0 && { beside }),
      ...{ periodId, periodStart, benchMinutes },
    });
  }
  return booked;
}

const isFor = ({ serviceKind, wanted }: LeadRow, job: ServiceKind | undefined): boolean =>
  job === serviceKind || job === wanted;

/** Takes units out of a booking, and lets go of one that is left without any. Returns the rows of one so let go. */
export async function takeOut(
  tx: Tx,
  id: string,
  units: readonly Pick<VisitUnit, 'unitId'>[],
  entry: Entry,
): Promise<readonly LeadRow[]> {
  const fact = await findBooking(tx, id);
  if (!fact) return [];
  const { step, units: before } = fact.body;
  const left = before.filter(({ unitId }) => !units.some((unit) => unit.unitId === unitId));
  if (left.length > 0) {
    await stepBooking(tx, fact, { step, units: left }, entry);
    return [];
  }
  return stepBooking(tx, fact, { step: 'withdrawn' }, entry);
}

/** Says that the service of a unit is done; the booking is, once those of all its units are. */
export async function finishUnit(
  tx: Tx,
  id: string,
  unitId: string | null,
  entry: Entry,
): Promise<readonly LeadRow[]> {
  const fact = await findBooking(tx, id);
  if (!fact) return [];
  const units = fact.body.units.map(
    (unit): BookedUnit => (unitId === null || unit.unitId === unitId ? { ...unit, isDone: true } : unit),
  );
  const step = units.every(({ isDone }) => isDone) ? 'done' : fact.body.step;
  return stepBooking(tx, fact, { step, units }, entry);
}

/** Makes a booking without a day out of a lead, by its last step: it is not wanted, or was dealt with. */
export async function closeOpen(
  tx: Tx,
  lead: LeadRow,
  step: 'not-wanted' | 'done',
  entry: Entry,
  ids: Ids,
): Promise<readonly LeadRow[]> {
  const { timeZone } = await getWorkshop(tx);
  const { bikeId } = await bikeNow(tx, lead.unitId, entry.at, timeZone);
  const units = await bookedUnits(tx, [visitUnitOf(lead)], [lead]);
  const calendar = newCalendar(ids);
  const body = { step, day: null, bikeId, riderId: lead.riderId, units, calendar };
  const isOpen = lead.state === 'open';
  const fact = { kind: 'booking', body, ...(isOpen && { entityId: lead.id }) } as const;
  return tx.leads.listOf((await addFact(tx, fact, entry)).entityId);
}

/** Returns the day of today where the workshop is. */
export const todayAt = async (tx: Tx, { at }: Entry): Promise<Day> =>
  dayOf(at, (await getWorkshop(tx)).timeZone);
