/** What came of invitations into quiet weeks. */
import { dayOf } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { INVITED } from '../../core/notices/kinds/invitation.js';
import type { NoticeKey } from '../../core/notices/notice/notice.js';
import { reminderHold } from '../../core/notices/notice/wish.js';
import { cameOf, type Since, winterOf } from '../../core/plan/quietWeeks.js';
import { INVITED_OUTCOMES, type InvitedOutcome, type ServiceKind } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import type { Entry } from '../entry.js';
import { voidFact } from '../facts/changeFact.js';
import { bikeNow } from '../mail/bikeNow.js';
import { listInvitations } from '../mail/listInvitations.js';
import { noticeRider } from '../mail/queueNotices.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';

/** A unit that was invited this winter, and what came of it. */
export interface InvitedRow {
  readonly factId: string;
  readonly unit: string;
  readonly serviceKind: ServiceKind;
  readonly rider: string | null;
  readonly phone: string | null;
  readonly week: { readonly from: Day; readonly to: Day };
  readonly came: InvitedOutcome;
}

/** Returns who was invited in the winter of today, the latest week first; in the busy months in the one before. */
export async function listInvited(tx: Tx, now: Instant): Promise<InvitedRow[]> {
  const { timeZone } = await getWorkshop(tx);
  const today = dayOf(now, timeZone);
  const facts = await tx.facts.list('invited');
  const last = facts.reduce<Day | null>(
    (a, { body }) => (a === null || body.before > a ? body.before : a),
    null,
  );
  const before = winterOf(timeZone, today)?.before ?? last;
  const rows: InvitedRow[] = [];
  for (const fact of facts) if (fact.body.before === before) rows.push(await rowOf(tx, fact, now, timeZone));
  return rows.sort((a, b) =>
    a.week.from === b.week.from ? (a.unit < b.unit ? -1 : 1) : a.week.from > b.week.from ? -1 : 1,
  );
}

async function rowOf(tx: Tx, fact: Fact<'invited'>, now: Instant, zone: string): Promise<InvitedRow> {
  const { unitId, serviceKind, from, to } = fact.body;
  const { riderId } = await bikeNow(tx, unitId, now, zone);
  const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
  const tag = (await tx.facts.current('unit', unitId))?.body.tag ?? '';
  return {
    ...{ factId: fact.id, unit: tag, serviceKind, week: { from, to } },
    ...{ rider: contact?.name ?? null, phone: contact?.phone ?? null },
    came: cameOf(await sinceOf(tx, fact, riderId, now, zone)),
  };
}

async function sinceOf(
  tx: Tx,
  fact: Fact<'invited'>,
  riderId: string | null,
  now: Instant,
  zone: string,
): Promise<Since> {
  const { unitId, periodId } = fact.body;
  const on = dayOf(fact.since, zone);
  const services = await tx.facts.list('service', { subject: unitId });
  const leads = await tx.leads.listOfUnit(unitId);
  const [later] = await tx.leads.listLater(unitId);
  return {
    isDone: services.some(({ body, since }) => body.by === 'here' && body.on >= on && since > fact.since),
    hasDay: leads.some(
      (lead) => (lead.state === 'asked-for' || lead.state === 'booked') && lead.changedAt >= fact.since,
    ),
    isNotNow:
      leads.some((lead) => lead.step === 'not-wanted' && lead.periodId === periodId) ||
      (later !== undefined && later.at >= fact.since),
    mail: riderId === null ? 'cannot' : await mailOf(tx, fact, riderId, now),
  };
}

async function mailOf(
  tx: Tx,
  { body }: Fact<'invited'>,
  riderId: string,
  now: Instant,
): Promise<Since['mail']> {
  const key: NoticeKey = {
    ...{ to: riderId, unitId: null, serviceKind: null, periodId: null, state: null },
    ...{ occasion: 'invitation', cause: INVITED.write(body) },
  };
  const notice = await tx.notices.findKept(key);
  const mail = notice && (await tx.mails.find(notice.mailId));
  if (mail?.state === 'handed-over') return 'handed-over';
  const contact = await tx.contacts.find(riderId);
  const isHeld = reminderHold(contact && noticeRider(contact, null)) !== null;
  const isOver = !(await listInvitations(tx, now, body.unitId)).some(({ isOpen }) => isOpen);
  return isHeld || mail?.state === 'refused' || isOver ? 'cannot' : 'to-go';
}

/** Nothing has gone to the rider yet. */
export const mayTakeBack = ({ came }: Pick<InvitedRow, 'came'>): boolean =>
  came === 'waits' || came === 'to-call';

/** Takes an invitation back: its mail does not go, and the unit may be invited again. Errors: `refused`, `not-found`. */
export async function takeBackInvitation(
  tx: Tx,
  factId: string,
  entry: Entry & { why: string },
): Promise<void> {
  const row = (await listInvited(tx, entry.at)).find((one) => one.factId === factId);
  if (!row || !mayTakeBack(row)) return refuse('invitation-went');
  await voidFact(tx, factId, entry.why, entry);
}

/** Returns how many of them came to what. */
export const countCame = (rows: readonly InvitedRow[]): Readonly<Record<InvitedOutcome, number>> =>
  Object.fromEntries(
    INVITED_OUTCOMES.map((came) => [came, rows.filter((row) => row.came === came).length]),
  ) as Record<InvitedOutcome, number>;
