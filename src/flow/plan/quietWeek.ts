/** A quiet week of the bench: whom to invite into it, worst first, and what came of who was. */
import { dayOf } from '../../core/days/calendar.js';
import { groupBy } from '../../core/groupBy.js';
import { reminderHold } from '../../core/notices/notice/wish.js';
import type { BenchWeek } from '../../core/plan/benchWeeks.js';
import {
  byUrgency,
  fitsIn,
  isQuiet,
  type QuietJob,
  quietJob,
  type Winter,
  winterOf,
} from '../../core/plan/quietWeeks.js';
import type { UnitKind } from '../../core/tokens.js';
import type { Contact } from '../../ports/contacts.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { type ForeseenUnit, listForeseen, minutesOf } from '../due/foreseen.js';
import type { Entry } from '../entry.js';
import { addFact } from '../facts/changeFact.js';
import { INVITED_STATES, listInvitations } from '../mail/listInvitations.js';
import { listSubjects } from '../mail/listSubjects.js';
import { noticeRider, settledSince } from '../mail/queueNotices.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { type BenchPlan, getBenchPlan } from './benchPlan.js';

/** A unit that may be invited, with its rider. */
export interface QuietRow extends QuietJob {
  readonly unitId: string;
  readonly unit: string;
  readonly unitKind: UnitKind;
  readonly bike: string;
  readonly rider: string;
  readonly phone: string | null;
  readonly minutes: number;
  /** No mail about rides may go to its rider, who can be called. */
  readonly isCall: boolean;
}

export interface QuietWeek {
  readonly week: BenchWeek;
  readonly winter: Winter;
  /** Whom a mail reaches, and who can be called; the worst first. */
  readonly rows: readonly QuietRow[];
  readonly calls: readonly QuietRow[];
  /** So many of the rows the week has room for. */
  readonly fits: number;
}

/** The weeks of the plan that are quiet, before busy months. */
export const quietWeeksOf = ({ weeks }: BenchPlan, zone: string): readonly BenchWeek[] =>
  weeks.filter((week) => isQuiet(week, zone));

/** Returns the first quiet week, or the one that a day lies in; null where it is none. */
export async function getQuietWeek(tx: Tx, now: Instant, on: Day | null): Promise<QuietWeek | null> {
  const { timeZone } = await getWorkshop(tx);
  const plan = await getBenchPlan(tx, now);
  const weeks = quietWeeksOf(plan, timeZone);
  const week = on === null ? weeks[0] : weeks.find(({ from, to }) => from <= on && on <= to);
  const winter = week && winterOf(timeZone, week.to);
  if (!week || !winter) return null;
  const all = await listRows(tx, now, winter);
  const rows = all.filter(({ isCall }) => !isCall);
  const room = fitsIn(
    week,
    rows.map(({ minutes }) => minutes),
  );
  // Of those who were invited and have not answered some will come.
  const expected = Math.round((await countOpen(tx, now, week)) * plan.response);
  const fits = Math.max(0, Math.min(rows.length, room) - expected);
  return { week, winter, rows, calls: all.filter(({ isCall }) => isCall), fits };
}

/** Returns how many who were invited into a week have not answered. */
async function countOpen(tx: Tx, now: Instant, { from }: BenchWeek): Promise<number> {
  const open = (await listInvitations(tx, now)).filter(({ isOpen }) => isOpen);
  const here = new Set(
    (await tx.facts.list('invited')).flatMap(({ body }) => (body.from === from ? [body.unitId] : [])),
  );
  return open.filter(({ unitId }) => here.has(unitId)).length;
}

/** Units on riders' bikes that are likely due by then, without a day, and not invited yet. */
async function listRows(tx: Tx, now: Instant, { before, dueBy }: Winter): Promise<QuietRow[]> {
  const { timeZone } = await getWorkshop(tx);
  const today = dayOf(now, timeZone);
  const invited = new Set(
    (await tx.facts.list('invited')).flatMap(({ body }) => (body.before === before ? [body.unitId] : [])),
  );
  const units = (await listForeseen(tx, now)).filter(
    ({ unit, bike, foreseen }) =>
      bike !== null &&
      bike.riderId !== null &&
      !invited.has(unit.id) &&
      foreseen.every(({ standing }) => standing.state !== 'stop-riding'),
  );
  const likely = units.flatMap((one) => {
    const foreseen = one.foreseen.filter(({ standing }) => INVITED_STATES.includes(standing.state));
    const job = quietJob({ foreseen, by: dueBy, today, zone: timeZone });
    return job === null ? [] : [{ one, job }];
  });
  const open = await withoutAnswer(tx, now, likely);
  const contacts = new Map(
    (await tx.contacts.listOf([...new Set(open.map(({ one }) => one.bike!.riderId!))])).map((contact) => [
      contact.riderId,
      contact,
    ]),
  );
  const settling = await tx.rides.listSettling(settledSince(now));
  return open
    .flatMap(({ one, job }) => {
      const contact = contacts.get(one.bike!.riderId!);
      return contact ? [rowOf(one, job, contact, settling.has(contact.riderId))] : [];
    })
    .sort((a, b) => byUrgency(a, b) || (a.unit < b.unit ? -1 : 1));
}

function rowOf(
  { unit, bike, ...rest }: ForeseenUnit,
  job: QuietJob,
  contact: Contact,
  isSettling: boolean,
): QuietRow {
  return {
    ...job,
    ...{ unitId: unit.id, unit: unit.tag, unitKind: unit.unitKind, bike: bike!.name },
    ...{ rider: contact.name, phone: contact.phone },
    minutes: minutesOf({ unit, bike, ...rest }, job.serviceKind),
    // Rides that just came are settled by the time that it goes.
    isCall: reminderHold({ ...noticeRider(contact, null, isSettling), isSettling: false }) !== null,
  };
}

/** Leaves out what has a day, is at the workshop, or what its rider answered. */
async function withoutAnswer<T extends { readonly one: ForeseenUnit; readonly job: QuietJob }>(
  tx: Tx,
  now: Instant,
  all: readonly T[],
): Promise<T[]> {
  const { timeZone } = await getWorkshop(tx);
  const today = dayOf(now, timeZone);
  const unitIds = all.map(({ one }) => one.unit.id);
  const subjects = groupBy(await listSubjects(tx, now, timeZone, unitIds), ({ standing }) => standing.unitId);
  const leads = groupBy(
    await tx.leads.list(['asked-for', 'booked', 'declined', 'passed']),
    ({ unitId }) => unitId,
  );
  return all.filter(({ one, job }) => {
    const isQuietNow = (subjects.get(one.unit.id) ?? []).some(
      (subject) => (subject.answer?.quietUntil ?? '') > today,
    );
    const isPlaced = (leads.get(one.unit.id) ?? []).some(
      (lead) =>
        lead.state === 'asked-for' ||
        lead.state === 'booked' ||
        (lead.step === 'not-wanted' && lead.periodId === job.periodId),
    );
    return !isQuietNow && !isPlaced;
  });
}

/**
 * Invites units into the week that a day lies in: all of them, or none. Returns the facts' ids.
 * Errors: `refused` where the week is no longer quiet, nobody was chosen, or a unit cannot be invited any more.
 */
export async function inviteUnits(
  tx: Tx,
  { on, tags }: { readonly on: Day; readonly tags: readonly string[] },
  entry: Entry,
): Promise<string[]> {
  const quiet = await getQuietWeek(tx, entry.at, on);
  if (quiet === null) return refuse('no-quiet-week');
  if (tags.length === 0) return refuse('nobody-invited');
  const { week, winter } = quiet;
  const rows = new Map(quiet.rows.map((row) => [row.unit, row]));
  const ids: string[] = [];
  for (const tag of new Set(tags)) {
    const row = rows.get(tag);
    if (!row) return refuse('not-invited', { tag });
    const { unitId, serviceKind, wanted, periodId } = row;
    const body = {
      unitId,
      serviceKind,
      wanted,
      periodId,
      from: week.from,
      to: week.to,
      before: winter.before,
    };
    ids.push((await addFact(tx, { kind: 'invited', body }, entry)).id);
  }
  return ids;
}
