import { textCause } from '../../../core/notices/notice/notice.js';
import type { Ids } from '../../../ports/ids.js';
import type { Tx } from '../../../ports/store.js';
import type { Instant } from '../../../units.js';
import { findJob } from '../../plan/jobs.js';
import { addLetter, withdrawLetters } from '../addLetter.js';
import type { MailSource } from './mailKind.js';

/** Of which unit. */
const UNIT = textCause<string>();

/** Tells that a unit at the workshop is done; written anew until it goes, and dropped once it was collected. */
export const ready: MailSource = {
  stops: null,
  toRider: async ({ tx, mail, contact, frame, now }) => {
    const job = await findJob(tx, now, UNIT.read(mail.cause));
    if (job === null || contact.confirmedAt === null || job.rider?.id !== contact.riderId) return null;
    const { unit, bike } = job.one;
    const { tag, unitKind } = unit;
    const of = {
      bike: bike?.name ?? job.backTo ?? unit.model ?? tag,
      tag,
      unitKind,
      did: job.did,
      price: job.stay.job.price,
      next: job.next,
    };
    return { mail: 'ready', content: { ...frame, ...of } };
  },
};

/**
 * Queues the mail that a unit can be collected, in place of one that waits. Returns false where the rider gets none and is
 * to be called.
 */
export async function queueReady(tx: Tx, unitId: string, now: Instant, ids: Ids): Promise<boolean> {
  const riderId = (await findJob(tx, now, unitId))?.rider?.id ?? null;
  const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
  if (!contact?.email || contact.confirmedAt === null || contact.refusedAt !== null) return false;
  await withdrawLetters(tx, 'ready', ({ cause }) => UNIT.read(cause) === unitId, now);
  await addLetter(tx, { mail: 'ready', to: contact.riderId, cause: UNIT.write(unitId) }, now, ids);
  return true;
}
