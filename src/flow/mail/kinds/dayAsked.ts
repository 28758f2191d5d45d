import type { BookedJob, ToldMail } from '../../../core/notices/mailContent.js';
import { type Cause, type CauseText, textCause, WORKSHOP } from '../../../core/notices/notice/notice.js';
import type { Ids } from '../../../ports/ids.js';
import type { LeadRow } from '../../../ports/leads.js';
import type { Tx } from '../../../ports/store.js';
import type { Day, Instant } from '../../../units.js';
import { addLetter, withdrawLetters } from '../addLetter.js';
import { bikeNow } from '../bikeNow.js';
import { bookedJobOf } from '../bookedJob.js';
import type { MailSource, MailWork } from './mailKind.js';

/** Whose day it is. */
const ASKED = textCause();
/** Whose day it was, with what else of the bike came on it, and which. */
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
    const lead = await work.tx.leads.find(ASKED.read(work.mail.cause));
    return lead?.state === 'asked-for'
      ? told(work, 'day-asked', [lead, ...(await besides(work, lead))])
      : null;
  },
};

/** Tells it that the rider no longer wants that day. */
export const dayWithdrawn: MailSource = {
  stops: null,
  toWorkshop: async (work) => {
    const { leadIds, day } = WITHDRAWN.read(work.mail.cause);
    const open: LeadRow[] = [];
    for (const id of leadIds) {
      const lead = await work.tx.leads.find(id);
      if (lead?.state === 'open') open.push({ ...lead, day });
    }
    return open.length > 0 ? told(work, 'day-withdrawn', open) : null;
  },
};

/** What else of the bike its rider asks for on the same day: one visit is one mail. */
async function besides({ tx, now, workshop }: MailWork, lead: LeadRow): Promise<LeadRow[]> {
  const bikeOf = async (unitId: string) => (await bikeNow(tx, unitId, now, workshop.timeZone)).bikeId;
  const bikeId = await bikeOf(lead.unitId);
  const rest: LeadRow[] = [];
  for (const one of bikeId === null ? [] : await tx.leads.list(['asked-for'])) {
    const isOfVisit = one.id !== lead.id && one.riderId === lead.riderId && one.day === lead.day;
    if (isOfVisit && (await bikeOf(one.unitId)) === bikeId) rest.push(one);
  }
  return rest;
}

async function told(
  { tx, workshop, today, links, now }: MailWork,
  mail: 'day-asked' | 'day-withdrawn',
  leads: readonly LeadRow[],
): Promise<ToldMail | null> {
  const [lead] = leads as [LeadRow];
  const jobs: BookedJob[] = [];
  for (const one of leads) {
    const of = await bookedJobOf(tx, one, now);
    if (of) jobs.push(of);
  }
  const [job, ...also] = jobs;
  if (!job) return null;
  const rider = lead.riderId === null ? undefined : await tx.contacts.find(lead.riderId);
  const link = links && `${links.publicUrl}/leads`;
  return { mail, content: { workshop, today, ...job, also, rider: rider?.name ?? '', link } };
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
  leads: readonly LeadRow[],
  day: Day,
  now: Instant,
  ids: Ids,
): Promise<void> {
  const leadIds = leads.map(({ id }) => id);
  const isAbout = ({ cause }: { readonly cause: Cause }): boolean => leadIds.includes(ASKED.read(cause));
  const wishes = (await tx.mails.listOfKind('day-asked')).filter(isAbout);
  const isUnheard = wishes.every((mail) => mail.tries === 0 && mail.state === 'waiting');
  await withdrawLetters(tx, 'day-asked', isAbout, now);
  if (isUnheard) return;
  const cause = WITHDRAWN.write({ leadIds, day });
  await addLetter(tx, { mail: 'day-withdrawn', to: WORKSHOP, cause }, now, ids);
}
