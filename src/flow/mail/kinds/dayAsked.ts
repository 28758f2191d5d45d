import type { DayAskedContent, ToldMail } from '../../../core/notices/mailContent.js';
import { type Cause, type CauseText, textCause, WORKSHOP } from '../../../core/notices/notice/notice.js';
import { DAYS_LET_GO, type DayLetGo } from '../../../core/tokens.js';
import type { Ids } from '../../../ports/ids.js';
import type { LeadRow } from '../../../ports/leads.js';
import type { Tx } from '../../../ports/store.js';
import type { Day, Instant } from '../../../units.js';
import { addLetter, withdrawLetters } from '../addLetter.js';
import { bookedVisitOf } from '../bookedJob.js';
import type { MailSource, MailWork } from './mailKind.js';

/** Whose day it is. */
const ASKED = textCause();
/** Whose day it was, which, and how it was let go of; of former versions each unit of the visit apart, and asked for. */
const WITHDRAWN: CauseText<{
  readonly leadIds: readonly string[];
  readonly day: Day;
  readonly how: DayLetGo;
}> = {
  write: ({ leadIds, day, how }) => `${leadIds.join(',')} ${day} ${how}` as Cause,
  read: (text) => {
    const [leadIds = '', day = '', how = ''] = text.split(' ');
    return {
      leadIds: leadIds.split(','),
      day: day as Day,
      how: DAYS_LET_GO.find((one) => one === how) ?? 'withdrawn',
    };
  },
};
interface MovedDay {
  readonly leadId: string;
  readonly was: Day;
  readonly to: Day;
}
const MOVED: CauseText<MovedDay> = {
  write: ({ leadId, was, to }) => `${leadId} ${was} ${to}` as Cause,
  read: (text) => {
    const [leadId = '', was = '', to = ''] = text.split(' ');
    return { leadId, was: was as Day, to: to as Day };
  },
};

/** Tells the workshop of a day that a rider asks for. */
export const dayAsked: MailSource = {
  stops: null,
  toWorkshop: async (work) => {
    const leads = await work.tx.leads.listOf(ASKED.read(work.mail.cause));
    return told(
      work,
      'day-asked',
      leads.filter(({ state }) => state === 'asked-for'),
    );
  },
};

/** Tells it that the rider no longer wants that day. */
export const dayWithdrawn: MailSource = {
  stops: null,
  toWorkshop: async (work) => {
    const { leadIds, day, how } = WITHDRAWN.read(work.mail.cause);
    const leads: LeadRow[] = [];
    for (const id of leadIds) leads.push(...(await work.tx.leads.listOf(id)));
    const open = leads.filter(
      ({ state, step }) => step === 'not-wanted' || state === 'passed' || state === 'open',
    );
    return told(
      work,
      'day-withdrawn',
      open.map((lead) => ({ ...lead, day })),
      { how },
    );
  },
};

/** Tells it that the rider moved a day that was booked. */
export const dayMoved: MailSource = {
  stops: null,
  toWorkshop: async (work) => {
    const { leadId, was, to } = MOVED.read(work.mail.cause);
    const leads = await work.tx.leads.listOf(leadId);
    return told(
      work,
      'day-moved',
      leads.filter(({ state, day }) => state === 'booked' && day === to),
      { was },
    );
  },
};

async function told(
  { tx, workshop, today, links, now }: MailWork,
  mail: 'day-asked' | 'day-withdrawn' | 'day-moved',
  leads: readonly LeadRow[],
  rest: Pick<DayAskedContent, 'how' | 'was'> = {},
): Promise<ToldMail | null> {
  const [lead] = leads;
  const visit = lead && (await bookedVisitOf(tx, leads, now));
  if (!visit) return null;
  const rider = lead.riderId === null ? undefined : await tx.contacts.find(lead.riderId);
  const link = links && `${links.publicUrl}/leads`;
  return {
    mail,
    content: { workshop, today, ...visit, rider: rider?.name ?? '', wish: lead.wish, link, ...rest },
  };
}

/** Tells the workshop that a rider asks for a day. */
export async function queueDayAsked(tx: Tx, bookingId: string, now: Instant, ids: Ids): Promise<void> {
  const waiting = (await tx.mails.listOfKind('day-asked')).filter(
    (mail) => ASKED.read(mail.cause) === bookingId && mail.state === 'waiting',
  );
  if (waiting.some((mail) => mail.written === null)) return;
  await addLetter(tx, { mail: 'day-asked', to: WORKSHOP, cause: ASKED.write(bookingId) }, now, ids);
}

/** Tells the workshop that a rider no longer wants a day; where it never heard of the wish, neither goes. */
export async function queueDayWithdrawn(
  tx: Tx,
  { leadId, day, how }: { readonly leadId: string; readonly day: Day; readonly how: DayLetGo },
  now: Instant,
  ids: Ids,
): Promise<void> {
  const isAbout = ({ cause }: { readonly cause: Cause }): boolean => ASKED.read(cause) === leadId;
  const wishes = (await tx.mails.listOfKind('day-asked')).filter(isAbout);
  const isUnheard = wishes.every((mail) => mail.tries === 0 && mail.state === 'waiting');
  await withdrawLetters(tx, 'day-asked', isAbout, now);
  await withdrawLetters(tx, 'day-moved', ({ cause }) => MOVED.read(cause).leadId === leadId, now);
  if (how === 'withdrawn' && isUnheard) return;
  const cause = WITHDRAWN.write({ leadIds: [leadId], day, how });
  await addLetter(tx, { mail: 'day-withdrawn', to: WORKSHOP, cause }, now, ids);
}

/** Tells the workshop that a rider moved a booked day; of several moves that it has not heard of yet only the last. */
export async function queueDayMoved(tx: Tx, moved: MovedDay, now: Instant, ids: Ids): Promise<void> {
  const isAbout = ({ cause }: { readonly cause: Cause }): boolean =>
    MOVED.read(cause).leadId === moved.leadId;
  const unheard = (await tx.mails.listOfKind('day-moved')).filter(
    (mail) => isAbout(mail) && mail.tries === 0 && mail.state === 'waiting',
  );
  const [first] = unheard.sort((a, b) => a.queuedAt - b.queuedAt);
  const was = first === undefined ? moved.was : MOVED.read(first.cause).was;
  await withdrawLetters(tx, 'day-moved', isAbout, now);
  if (was === moved.to) return;
  await addLetter(tx, { mail: 'day-moved', to: WORKSHOP, cause: MOVED.write({ ...moved, was }) }, now, ids);
}
