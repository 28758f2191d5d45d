import { textCause, WORKSHOP } from '../../../core/notices/notice/notice.js';
import type { Ids } from '../../../ports/ids.js';
import type { LeadRow } from '../../../ports/leads.js';
import type { Tx } from '../../../ports/store.js';
import type { Instant } from '../../../units.js';
import { addLetter } from '../addLetter.js';
import { bookedJobOf } from '../bookedJob.js';
import type { MailSource } from './mailKind.js';

/** Whose day it is. */
const LEAD = textCause();

/** Tells the workshop of a day that a rider asks for. */
export const dayAsked: MailSource = {
  isStoppable: false,
  toWorkshop: async ({ tx, mail, workshop, today, links, now }) => {
    const lead = await tx.leads.find(LEAD.read(mail.cause));
    const job = lead?.state === 'asked-for' ? await bookedJobOf(tx, lead, now) : null;
    if (!lead || !job) return null;
    const rider = lead.riderId === null ? undefined : await tx.contacts.find(lead.riderId);
    const link = links && `${links.publicUrl}/leads`;
    return { mail: 'day-asked', content: { workshop, today, ...job, rider: rider?.name ?? '', link } };
  },
};

/** Tells the workshop that a rider asks for a day. */
export async function queueDayAsked(tx: Tx, lead: LeadRow, now: Instant, ids: Ids): Promise<void> {
  const waiting = (await tx.mails.listOfKind('day-asked')).filter(
    (mail) => LEAD.read(mail.cause) === lead.id && mail.state === 'waiting',
  );
  if (waiting.some((mail) => mail.written === null)) return;
  await addLetter(tx, { mail: 'day-asked', to: WORKSHOP, cause: LEAD.write(lead.id) }, now, ids);
}
