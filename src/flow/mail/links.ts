import {
  expiryFrom,
  isLasting,
  type Link,
  type LinkHolder,
  type LinkPurpose,
  readToken,
  signedText,
  tokenOf,
} from '../../core/links.js';
import type { ItemLinks } from '../../core/notices/mailContent.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { Contact } from '../../ports/contacts.js';
import type { Seal } from '../../ports/seal.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';

/** What links in mails are made with. */
export interface Links {
  /** Without a slash at its end. */
  readonly publicUrl: string;
  readonly seal: Seal;
  /** Whether mails go out signed and the pages stand under HTTPS, so that one click may stop them. */
  readonly isOneClick: boolean;
}

/** A link is bound to the address it was sent to. */
const holderOf = (workshopId: string, { addressId, linkEpoch }: Contact): LinkHolder => ({
  workshopId,
  addressId,
  epoch: linkEpoch,
});
/** Of a lasting link: the rider alone. */
const lastingHolder = (workshopId: string): LinkHolder => ({ workshopId, addressId: '', epoch: 0 });

/** What a link is about, beside its rider. */
export type LinkAbout = Pick<Link, 'purpose' | 'unitId' | 'serviceKind'>;

/** Makes the links of one mail. */
export class LinkMaker {
  constructor(
    readonly links: Links,
    readonly workshopId: string,
    readonly contact: Contact,
    readonly now: Instant,
  ) {}

  /** Returns the address of a page. */
  to({ purpose, unitId, serviceKind }: LinkAbout): string {
    const { publicUrl, seal } = this.links;
    const { riderId } = this.contact;
    const link = { purpose, riderId, unitId, serviceKind, expiresAt: expiryFrom(this.now) };
    const holder = isLasting(purpose)
      ? lastingHolder(this.workshopId)
      : holderOf(this.workshopId, this.contact);
    const mark = seal.mark(signedText(link, holder));
    return `${publicUrl}/r/${purpose}/${encodeURIComponent(tokenOf(link, mark))}`;
  }

  /** Returns the address of a page about the rider, not about a unit. */
  own(purpose: LinkPurpose): string {
    return this.to({ purpose, unitId: null, serviceKind: null });
  }

  item(unitId: string, serviceKind: ServiceKind): ItemLinks {
    const to = (purpose: LinkPurpose): string => this.to({ purpose, unitId, serviceKind });
    return {
      askForDay: to('ask'),
      alreadyDone: to('done'),
      later: to('later'),
      soldOrStored: to('gone'),
    };
  }
}

/** Returns the address of a rider's own page, to be given by hand. */
export const ownPageLink = (
  tx: Tx,
  contact: Contact,
  links: Pick<Links, 'publicUrl' | 'seal'>,
  now: Instant,
): string => new LinkMaker({ ...links, isOneClick: false }, tx.workshopId, contact, now).own('page');

/** Makes every link that a rider was sent void. */
export const revokeLinks = (tx: Tx, { riderId }: Contact): Promise<void> => tx.contacts.revokeLinks(riderId);

/** A link whose mark was checked. */
export interface OpenedLink {
  readonly link: Link;
  readonly contact: Contact;
  readonly isExpired: boolean;
}

/** Returns what a token opens on a page; null where it is forged, void, or meant for another page. */
export async function openLink(
  tx: Tx,
  seal: Seal,
  purpose: LinkPurpose,
  token: string,
  now: Instant,
): Promise<OpenedLink | null> {
  const read = readToken(purpose, token);
  const contact = read && (await tx.contacts.find(read.link.riderId));
  if (!read || !contact) return null;
  const isLastingLink = isLasting(purpose);
  // Those of mails from before lasting links are bound as the others are.
  const holders = [
    holderOf(tx.workshopId, contact),
    ...(isLastingLink ? [lastingHolder(tx.workshopId)] : []),
  ];
  if (!holders.some((holder) => seal.fits(signedText(read.link, holder), read.mark))) return null;
  return { link: read.link, contact, isExpired: !isLastingLink && read.link.expiresAt <= now };
}

/** Returns the same with the job on a unit that an address names, in the place of one that the link does. */
export async function aboutJob(
  tx: Tx,
  opened: OpenedLink,
  { tag, serviceKind }: { readonly tag: string; readonly serviceKind: ServiceKind },
): Promise<OpenedLink> {
  const unitId = (await tx.handles.find('unit', tag)) ?? '';
  return { ...opened, link: { ...opened.link, unitId, serviceKind } };
}

/** Returns the path of the bookings' calendar; it changes with each turn of its epoch. */
export const feedPath = (seal: Seal, workshopId: string, epoch: number): string =>
  `/bookings/${seal.mark(JSON.stringify(['feed', workshopId, epoch]))}.ics`;

/** Returns where the bookings' calendar is now. */
export const getFeedPath = async (tx: Tx, seal: Seal): Promise<string> =>
  feedPath(seal, tx.workshopId, await tx.leads.feedEpoch());

/** Returns whether a mark is that of the bookings' calendar. */
export async function isFeedPath(tx: Tx, seal: Seal, mark: string): Promise<boolean> {
  return seal.fits(JSON.stringify(['feed', tx.workshopId, await tx.leads.feedEpoch()]), mark);
}
