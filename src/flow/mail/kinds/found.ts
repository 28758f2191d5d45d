import { textCause } from '../../../core/notices/notice/notice.js';
import type { Ids } from '../../../ports/ids.js';
import type { Tx } from '../../../ports/store.js';
import type { Instant } from '../../../units.js';
import { findToldService, findWhatFound } from '../../found/whatFound.js';
import { findJob } from '../../plan/jobs.js';
import { addLetter } from '../addLetter.js';
import { middleHalfOf } from '../middleHalf.js';
import type { MailSource } from './mailKind.js';

/** Of which service, through all its corrections. */
const SERVICE = textCause<string>();

/** Tells what was found at a service, once it can be collected; written anew until it goes. */
export const found: MailSource = {
  stops: 'stop-found',
  toRider: async ({ tx, mail, contact, frame, maker, now }) => {
    const serviceId = SERVICE.read(mail.cause);
    const unitId = (await tx.facts.current('service', serviceId))?.body.unitId;
    const job = unitId === undefined ? null : await findJob(tx, now, unitId);
    if (job === null || contact.confirmedAt === null || job.one.bike?.riderId !== contact.riderId)
      return null;
    const { unit, bike } = job.one;
    const told = await findWhatFound(tx, { riderId: contact.riderId, unitId: unit.id, serviceId }, now);
    if (told === null) return null;
    const { matters, did, hours, next } = told;
    const about = next === null ? null : middleHalfOf(next);
    const page = (own: string): string =>
      `${own}/units/${encodeURIComponent(unit.tag)}/found/${encodeURIComponent(serviceId)}`;
    return {
      mail: 'service-told',
      content: {
        ...frame,
        ...{
          bike: bike.name,
          tag: unit.tag,
          unitKind: unit.unitKind,
          did,
          matters,
          hours,
          found: told.found,
          left: told.left,
        },
        price: told.price ?? job.stay.job.price,
        next: next === null || about === null ? null : { serviceKind: next.serviceKind, ...about },
        photos: told.photos.length,
        links: maker && { page: page(maker.own('page')), stopMails: maker.own('stop-found') },
      },
    };
  },
};

/**
 * Queues the mail on what was found at the service of a stay. Returns false where there is none to tell of, or the rider
 * wants none or cannot get one; a service that was told once is told no more.
 */
export async function queueFound(tx: Tx, unitId: string, now: Instant, ids: Ids): Promise<boolean> {
  const job = await findJob(tx, now, unitId);
  const riderId = job?.one.bike?.riderId ?? null;
  const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
  if (!job || !contact?.email || contact.confirmedAt === null || contact.refusedAt !== null) return false;
  if ((await tx.mailed.rider(contact.riderId)).foundStoppedAt !== null) return false;
  const service = await findToldService(tx, unitId, job.stay.job.arrivedOn);
  if (service === null) return false;
  const cause = SERVICE.write(service.entityId);
  const isTold = (await tx.mails.listOfKind('service-told')).some(
    (mail) => mail.cause === cause && mail.state !== 'withdrawn',
  );
  if (!isTold) await addLetter(tx, { mail: 'service-told', to: contact.riderId, cause }, now, ids);
  return true;
}

export const isFoundMailed = async (tx: Tx, riderId: string): Promise<boolean> =>
  (await tx.mailed.rider(riderId)).foundStoppedAt === null;

export const stopFound = (tx: Tx, riderId: string, isStopped: boolean, now: Instant): Promise<void> =>
  tx.mailed.setFoundStopped(riderId, isStopped ? now : null);
