import type { ToldMail } from '../../../core/notices/mailContent.js';
import { type Cause, type CauseText, textCause, WORKSHOP } from '../../../core/notices/notice/notice.js';
import type { Ids } from '../../../ports/ids.js';
import type { LeadRow } from '../../../ports/leads.js';
import type { Tx } from '../../../ports/store.js';
import type { Day, Instant } from '../../../units.js';
import { addLetter, withdrawLetters } from '../addLetter.js';
import { bookedJobOf } from '../bookedJob.js';
import type { MailSource, MailWork } from './mailKind.js';

/** Whose day it is. */
const ASKED = textCause();
/** Whose day it was, and which. */
const WITHDRAWN: CauseText<{ readonly leadId: string; readonly day: Day }> = {
  write: ({ leadId, day }) => `${leadId} ${day}` as Cause,
  read: (text) => {
    const [leadId = '', day = ''] = text.split(' ');
    return { leadId, day: day as Day };
  },
};

/** Tells the workshop of a day that a rider asks for. */
export const dayAsked: MailSource = {
  isStoppable: false,
  toWorkshop: async (work) => {
    const lead = await work.tx.leads.find(ASKED.read(work.mail.cause));
    return lead?.state === 'asked-for' ? told(work, 'day-asked', lead) : null;
  },
};

/** Tells it that the rider no longer wants that day. */
export const dayWithdrawn: MailSource = {
  isStoppable: false,
  toWorkshop: async (work) => {
    const { leadId, day } = WITHDRAWN.read(work.mail.cause);
    const lead = await work.tx.leads.find(leadId);
    return lead?.state === 'open' ? told(work, 'day-withdrawn', { ...lead, day }) : null;
  },
};

async function told(
  { tx, workshop, today, links, now }: MailWork,
  mail: 'day-asked' | 'day-withdrawn',
  lead: LeadRow,
): Promise<ToldMail | null> {
  const job = await bookedJobOf(tx, lead, now);
  if (!job) return null;
  const rider = lead.riderId === null ? undefined : await tx.contacts.find(lead.riderId);
  const link = links && `${links.publicUrl}/leads`;
  return { mail, content: { workshop, today, ...job, rider: rider?.name ?? '', link } };
}

/** Tells the workshop that a rider asks for a day. */
export async function queueDayAsked(tx: Tx, lead: LeadRow, now: Instant, ids: Ids): Promise<void> {
  const waiting = (await tx.mails.listOfKind('day-asked')).filter(
    (mail) => ASKED.read(mail.cause) === lead.id && mail.state === 'waiting',
  );
  if (waiting.some((mail) => mail.written === null)) return;
  await addLetter(tx, { mail: 'day-asked', to: WORKSHOP, cause: ASKED.write(lead.id) }, now, ids);
}

/** Tells the workshop that a rider no longer wants a day; where it never heard of the wish, neither goes. */
export async function queueDayWithdrawn(
  tx: Tx,
  lead: LeadRow,
  day: Day,
  now: Instant,
  ids: Ids,
): Promise<void> {
  const wishes = (await tx.mails.listOfKind('day-asked')).filter(
    ({ cause }) => ASKED.read(cause) === lead.id,
  );
  const isUnheard = wishes.every((mail) => mail.tries === 0 && mail.state === 'waiting');
  await withdrawLetters(tx, 'day-asked', ({ cause }) => ASKED.read(cause) === lead.id, now);
  if (isUnheard) return;
  const cause = WITHDRAWN.write({ leadId: lead.id, day });
  await addLetter(tx, { mail: 'day-withdrawn', to: WORKSHOP, cause }, now, ids);
}
