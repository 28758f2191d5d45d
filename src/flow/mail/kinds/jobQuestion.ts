import { textCause } from '../../../core/notices/notice/notice.js';
import type { Ids } from '../../../ports/ids.js';
import type { Tx } from '../../../ports/store.js';
import type { Instant } from '../../../units.js';
import { findQuestion } from '../../facts/jobQuestions.js';
import { findJob } from '../../plan/jobs.js';
import { addLetter, withdrawLetters } from '../addLetter.js';
import type { MailSource } from './mailKind.js';

/** Of which unit. */
const UNIT = textCause<string>();

/** Asks whether another job may be done; written anew until it goes, and dropped once somebody answered. */
export const jobQuestion: MailSource = {
  stops: null,
  toRider: async ({ tx, mail, contact, frame, maker, now }) => {
    const unitId = UNIT.read(mail.cause);
    const job = await findJob(tx, now, unitId);
    const asked = await findQuestion(tx, unitId);
    if (job === null || asked?.body.answer !== 'asked') return null;
    if (contact.confirmedAt === null || job.one.bike?.riderId !== contact.riderId) return null;
    const { unit, bike } = job.one;
    const { from, to, why, price, day } = asked.body;
    return {
      mail: 'job-question',
      content: {
        ...frame,
        ...{ bike: bike.name, tag: unit.tag, unitKind: unit.unitKind, from, to, why, price, day },
        photos: job.photos.filter((one) => one.riderId === contact.riderId && !one.showsPerson).length,
        link: maker && `${maker.own('page')}/units/${encodeURIComponent(unit.tag)}`,
      },
    };
  },
};

/** Queues the question, in place of one that waits. Returns false where no mail reaches the rider, who is to be called. */
export async function queueJobQuestion(tx: Tx, unitId: string, now: Instant, ids: Ids): Promise<boolean> {
  const riderId = (await findJob(tx, now, unitId))?.one.bike?.riderId ?? null;
  const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
  if (!contact?.email || contact.confirmedAt === null || contact.refusedAt !== null) return false;
  await withdrawLetters(tx, 'job-question', ({ cause }) => UNIT.read(cause) === unitId, now);
  await addLetter(tx, { mail: 'job-question', to: contact.riderId, cause: UNIT.write(unitId) }, now, ids);
  return true;
}
