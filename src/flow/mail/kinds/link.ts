import type { Link, LinkPurpose } from '../../../core/links.js';
import type { LinkContent } from '../../../core/notices/mailContent.js';
import type { Cause, CauseText } from '../../../core/notices/notice/notice.js';
import type { ServiceKind } from '../../../core/tokens.js';
import type { Contact } from '../../../ports/contacts.js';
import type { Ids } from '../../../ports/ids.js';
import type { Tx } from '../../../ports/store.js';
import { DAY_MS, type Instant, MINUTE_MS } from '../../../units.js';
import { findRidesAddress } from '../../take/whoseMail.js';
import { addLetter, withdrawLetters } from '../addLetter.js';
import type { LinkAbout } from '../links.js';
import type { MailSource } from './mailKind.js';

/** Which page the link opens. */
const PAGE: CauseText<LinkAbout> = {
  write: ({ purpose, unitId, serviceKind }) => JSON.stringify([purpose, unitId, serviceKind]) as Cause,
  read: (text) => {
    const [purpose, unitId, serviceKind] = JSON.parse(text) as [
      LinkPurpose,
      string | null,
      ServiceKind | null,
    ];
    return { purpose, unitId, serviceKind };
  },
};

const linkMail = (mail: 'fresh-link' | 'own-page', why: LinkContent['why']): MailSource => ({
  stops: null,
  toRider: async (work) => {
    const { contact, frame, maker } = work;
    if (!maker) return null;
    const page = PAGE.read(work.mail.cause);
    // The rider's own page shows rides: they wait until the address is known to be the rider's.
    const isUnsure = page.purpose === 'page' && contact.confirmedAt === null;
    if (isUnsure && why === 'fresh') return null;
    if (isUnsure) return { mail: 'confirm-address', content: { ...frame, link: maker.own('address') } };
    const { rides, tx } = work;
    const isFirst = why === 'first' && rides !== null;
    const ridesAddress = isFirst ? await findRidesAddress(tx, rides, contact.riderId) : null;
    return { mail, content: { ...frame, link: maker.to(page), why, ridesAddress } };
  },
});

/** In place of a link that is too old. */
export const freshLink = linkMail('fresh-link', 'fresh');
/** To the rider's own page for the first time. */
export const ownPage = linkMail('own-page', 'first');

/**
 * Queues a link to the rider's own page, in place of one that waits; to an address that is not confirmed goes the
 * question whether it is the rider's, and the link once they say so. Returns false where no mail can go.
 */
export async function queueOwnPage(tx: Tx, contact: Contact, now: Instant, ids: Ids): Promise<boolean> {
  const { riderId, email, refusedAt } = contact;
  if (email === null || refusedAt !== null) return false;
  await withdrawLetters(tx, 'own-page', ({ to }) => to === riderId, now);
  const cause = PAGE.write({ purpose: 'page', unitId: null, serviceKind: null });
  await addLetter(tx, { mail: 'own-page', to: riderId, cause }, now, ids);
  return true;
}

/** *Default*: a link that is asked for again and again sends one mail in so long. */
const FRESH_LINK_APART_MS = 15 * MINUTE_MS;
const FRESH_LINKS_A_DAY = 5;

/** Queues a fresh link to the known address; the same again within a while adds nothing. */
export async function queueFreshLink(tx: Tx, link: Link, now: Instant, ids: Ids): Promise<void> {
  const contact = await tx.contacts.find(link.riderId);
  if (!contact?.email || contact.refusedAt !== null) return;
  const cause = PAGE.write(link);
  const today = (await tx.mails.listOfKind('fresh-link')).filter(
    (mail) => mail.to === link.riderId && Math.abs(now - mail.queuedAt) < DAY_MS,
  );
  const isRecent = today.some(
    (mail) => mail.cause === cause && Math.abs(now - mail.queuedAt) < FRESH_LINK_APART_MS,
  );
  if (isRecent || today.length >= FRESH_LINKS_A_DAY) return;
  await addLetter(tx, { mail: 'fresh-link', to: link.riderId, cause }, now, ids);
}
