/** Riders whom no mail reaches, by name and phone, until somebody says that they were told. */

import { dayOf } from '../../core/days/calendar.js';
import { addressReason, callsFor, type Told } from '../../core/notices/calls.js';
import type { ToldState } from '../../core/states.js';
import { isTold, WANTED_STATES } from '../../core/states.js';
import type { CallReason, ServiceKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import type { Entry } from '../entry.js';
import { addFact } from '../facts/changeFact.js';
import { refuse } from '../refuse.js';
import { findWorkshop, getWorkshop, hasBegun } from '../settings.js';
import { bikeNow } from './bikeNow.js';
import { listSubjects } from './listSubjects.js';
import { listPast, noticeRider } from './queueNotices.js';

/** A call that somebody has to make. */
export interface CallRow {
  readonly riderId: string;
  readonly rider: string;
  readonly phone: string | null;
  readonly unitId: string;
  readonly unit: string;
  readonly serviceKind: ServiceKind;
  readonly state: ToldState;
  readonly reason: CallReason;
}

/**
 * Returns whom to call, or which calls there are to one rider; crash marks first, then what presses most. Only units of
 * which there is something to tell are read.
 */
export async function listCalls(tx: Tx, now: Instant, riderId?: string): Promise<CallRow[]> {
  const workshop = (await findWorkshop(tx))?.body;
  if (!workshop) return [];
  const today = dayOf(now, workshop.timeZone);
  const unitIds = await tx.standings.listUnitsIn(['stop-riding', ...WANTED_STATES]);
  const all = await listSubjects(tx, now, workshop.timeZone, unitIds);
  const subjects = riderId === undefined ? all : all.filter((one) => one.riderId === riderId);
  const riderIds = [...new Set(subjects.map((one) => one.riderId).filter((id) => id !== null))];
  const contacts = new Map((await tx.contacts.listOf(riderIds)).map((one) => [one.riderId, one]));
  const told = (await tx.facts.listMany('told', unitIds)).flatMap(({ body }): Told[] =>
    isTold(body.state) ? [{ ...body, state: body.state }] : [],
  );
  const { timeZone, openDays, digestHour, closedDays = [] } = workshop;
  const input = {
    subjects,
    riders: [...contacts.values()].map((contact) => noticeRider(contact, null)),
    past: await listPast(tx, unitIds),
    workshop: { timeZone, openDays, closedDays, digestHour },
    hasBegun: hasBegun(workshop, today),
  };
  const calls = callsFor(input, told, today);
  const tags = await tx.handles.listOf('unit', [...new Set(calls.map(({ unitId }) => unitId))]);
  return calls.map(({ riderId, unitId, serviceKind, state, reason }) => ({
    riderId,
    rider: contacts.get(riderId)?.name ?? '',
    phone: contacts.get(riderId)?.phone ?? null,
    unitId,
    unit: tags.get(unitId) ?? '',
    serviceKind,
    state,
    reason,
  }));
}

/**
 * Says that somebody reached the rider by another way about where a service kind of a unit stands. Returns the fact's id.
 * Errors: `refused` where there is nothing to tell.
 */
export async function sayTold(
  tx: Tx,
  unitId: string,
  serviceKind: ServiceKind,
  entry: Entry,
): Promise<string> {
  const { timeZone } = await getWorkshop(tx);
  const subjects = await listSubjects(tx, entry.at, timeZone, [unitId]);
  const subject = subjects.find(({ standing }) => standing.serviceKind === serviceKind);
  if (!subject || !isTold(subject.standing.state)) return refuse('nothing-to-tell', { kind: serviceKind });
  const { periodId, state } = subject.standing;
  const body = { unitId, serviceKind, periodId, state, markId: subject.markId };
  return (await addFact(tx, { kind: 'told', body }, entry)).id;
}

/** Returns the calls about crash marks alone: few, and first of all. */
export async function listStopCalls(tx: Tx, now: Instant): Promise<CallRow[]> {
  const { timeZone } = await getWorkshop(tx);
  const calls: CallRow[] = [];
  for (const unitId of await tx.standings.listUnitsIn(['stop-riding'])) {
    const { riderId } = await bikeNow(tx, unitId, now, timeZone);
    const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
    const [subject] = contact ? await listSubjects(tx, now, timeZone, [unitId]) : [];
    const reason = contact && addressReason(noticeRider(contact, null));
    if (!contact || !subject || !reason || subject.isTold) continue;
    const unit = (await tx.facts.current('unit', unitId))?.body.tag ?? '';
    const { serviceKind } = subject.standing;
    const { name: rider, phone } = contact;
    calls.push({
      riderId: contact.riderId,
      rider,
      phone,
      unitId,
      unit,
      serviceKind,
      state: 'stop-riding',
      reason,
    });
  }
  return calls;
}
