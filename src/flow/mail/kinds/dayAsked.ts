import type { ToldMail } from '../../../core/notices/mailContent.js';
import { type Cause, type CauseText, textCause, WORKSHOP } from '../../../core/notices/notice/notice.js';
import type { Ids } from '../../../ports/ids.js';
import type { LeadRow } from '../../../ports/leads.js';
import type { Tx } from '../../../ports/store.js';
import type { Day, Instant } from '../../../units.js';
import { addLetter, withdrawLetters } from '../addLetter.js';
import { bookedVisitOf } from '../bookedJob.js';
import type { MailSource, MailWork } from './mailKind.js';

/** Whose day it is. */
const ASKED = textCause();
/** Whose day it was, and which; of former versions each unit of the visit apart. */
const WITHDRAWN: CauseText<{ readonly leadIds: readonly string[]; readonly day: Day }> = {
  write: ({ leadIds, day }) => `${leadIds.join(',')} ${day}` as Cause,
  read: (text) => {
    const [leadIds = '', day = ''] = text.split(' ');
    return { leadIds: leadIds.split(','), day: day as Day };
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
    const { leadIds, day } = WITHDRAWN.read(work.mail.cause);
    const leads: LeadRow[] = [];
    for (const id of leadIds) leads.push(...(await work.tx.leads.listOf(id)));
    const open = leads.filter(({ state }) => state === 'passed' || state === 'open');
    return told(
      work,
      'day-withdrawn',
      open.map((lead) => ({ ...lead, day })),
    );
  },
};

async function told(
  { tx, workshop, today, links, now }: MailWork,
  mail: 'day-asked' | 'day-withdrawn',
  leads: readonly LeadRow[],
): Promise<ToldMail | null> {
  const [lead] = leads;
  const visit = lead && (await bookedVisitOf(tx, leads, now));
  if (!visit) return null;
  const rider = lead.riderId === null ? undefined : await tx.contacts.find(lead.riderId);
  const link = links && `${links.publicUrl}/leads`;
  return { mail, content: { workshop, today, ...visit, rider: rider?.name ?? '', wish: lead.wish, link } };
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
  bookingId: string,
  day: Day,
  now: Instant,
  ids: Ids,
): Promise<void> {
  const isAbout = ({ cause }: { readonly cause: Cause }): boolean => ASKED.read(cause) === bookingId;
  const wishes = (await tx.mails.listOfKind('day-asked')).filter(isAbout);
  const isUnheard = wishes.every((mail) => mail.tries === 0 && mail.state === 'waiting');
  await withdrawLetters(tx, 'day-asked', isAbout, now);
  if (isUnheard) return;
  const cause = WITHDRAWN.write({ leadIds: [bookingId], day });
  await addLetter(tx, { mail: 'day-withdrawn', to: WORKSHOP, cause }, now, ids);
}
