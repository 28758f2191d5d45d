import { DAY_MS, type Instant, instant, msOf, secondsIn } from '../units.js';
import type { ServiceKind } from './tokens.js';

/** What a link is for; one of a kind opens no other page. `page` opens all that is a rider's own. */
export const LINK_PURPOSES = [
  ...(['ask', 'done', 'later', 'gone', 'bike', 'address', 'page'] as const),
  ...(['stop', 'stop-answers', 'stop-found'] as const),
] as const;
export type LinkPurpose = (typeof LINK_PURPOSES)[number];

/** Of all reminders, of the answers to mailed rides alone, or of what was found at services. */
export type StopPurpose = Extract<LinkPurpose, `stop${string}`>;

/** How long a link is good for. */
export const LINK_DAYS = 60;

export interface Link {
  readonly purpose: LinkPurpose;
  readonly riderId: string;
  /** Null where it is about the rider's mails or rides; then there is no service kind either. */
  readonly unitId: string | null;
  readonly serviceKind: ServiceKind | null;
  /** Whole seconds. */
  readonly expiresAt: Instant;
}

/** What a link is bound to and does not show: another address, or a turn of the epoch, makes it void. */
export interface LinkHolder {
  readonly workshopId: string;
  readonly addressId: string;
  readonly epoch: number;
}

export const expiryFrom = (now: Instant): Instant =>
  instant(msOf(Math.floor(secondsIn(now + LINK_DAYS * DAY_MS))));

/** When it was made, which says what the mail showed. */
export const madeAt = ({ expiresAt }: Link): Instant => instant(expiresAt - LINK_DAYS * DAY_MS);

/** Unsubscribing works from any mail ever sent: such a link never ends, and no other address makes it void. */
export const isLasting = (purpose: LinkPurpose): boolean => purpose.startsWith('stop');

/** Returns the text that is signed. */
export const signedText = (link: Link, holder: LinkHolder): string =>
  JSON.stringify([
    'link',
    link.purpose,
    link.expiresAt,
    link.riderId,
    link.unitId,
    link.serviceKind,
    holder.workshopId,
    holder.addressId,
    holder.epoch,
  ]);

/** Returns the link with its mark as it stands in an address; the purpose is the page. */
export const tokenOf = ({ expiresAt, riderId, unitId, serviceKind }: Link, mark: string): string =>
  [
    secondsIn(expiresAt).toString(36),
    riderId,
    // Last before the mark: a workshop's own kind may hold dots.
    ...(unitId === null ? [] : [unitId, serviceKind ?? '']),
    mark,
  ].join('.');

const TOKEN = /^([0-9a-z]{6,8})\.([0-9a-z]{1,40})(?:\.([0-9a-z]{1,40})\.([^/]{0,64}))?\.([0-9a-f]{32})$/u;

/** Returns what a token says, believed by nobody before its mark was checked; null where it is none. */
export function readToken(
  purpose: LinkPurpose,
  token: string,
): { readonly link: Link; readonly mark: string } | null {
  const match = TOKEN.exec(token);
  if (!match) return null;
  const [, seconds = '', riderId = '', unitId, serviceKind, mark = ''] = match;
  const expiresAt = instant(msOf(Number.parseInt(seconds, 36)));
  const about = { unitId: unitId ?? null, serviceKind: serviceKind || null };
  const link = { purpose, riderId, ...about, expiresAt };
  // One link has one token: a number may be written with noughts before it.
  return tokenOf(link, mark) === token ? { link, mark } : null;
}

/** What opens something by itself: a rider's link, or the bookings' calendar. */
const SECRET_ADDRESS = /(?:https?:\/\/[^\s/]+)?\/(?:r\/[a-z-]+|bookings)\/[^\s<>"]+/gu;

/** Returns a text with what would open something for whoever reads it left out. */
export const withoutTokens = (text: string): string => text.replace(SECRET_ADDRESS, '[…]');

/** What is asked of an address, to see whether it leads to the program that holds the same secret. */
export const HERE = /^[0-9a-f]{32}$/;
export const HERE_HEADER = 'stanchion-here';

/** Returns what is signed in answer: no link is signed over such a text. */
export const hereText = (asked: string): string => `here ${asked}`;
