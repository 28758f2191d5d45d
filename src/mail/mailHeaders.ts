import type { Language } from '../words/index.js';

/** How a reader stops these mails; null fields are ways that do not exist here. */
export interface StopMails {
  /** An HTTPS page of a public address that takes the one-click POST. */
  readonly oneClickUrl: string | null;
  /** Whether a DKIM signature covers the mail: made here, or by the relay as the settings state. */
  readonly signed: boolean;
  /** The address to which a mail asks for it. */
  readonly address: string;
}

const mailtoOf = (address: string): string =>
  `<mailto:${encodeURI(address).replaceAll('?', '%3F')}?subject=stop>`;

const isPublicHttps = (url: string): boolean => URL.canParse(url) && new URL(url).protocol === 'https:';

const stopHeaders = (stop: StopMails): Record<string, string> => {
  const oneClick = stop.oneClickUrl !== null && isPublicHttps(stop.oneClickUrl) && stop.signed;
  if (!oneClick) return { 'List-Unsubscribe': mailtoOf(stop.address) };
  return {
    'List-Unsubscribe': `<${new URL(stop.oneClickUrl ?? '').href}>, ${mailtoOf(stop.address)}`,
    'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click',
  };
};

/**
 * Returns the headers of a mail beyond its addresses, subject, date and id; `stop` null for mails that cannot be
 * unsubscribed from (a booking, an address to confirm).
 * Source: RFC 3834 5.2 (Auto-Submitted), RFC 2369 (List-Unsubscribe), RFC 8058 3.1 (one click only over HTTPS and
 * under a DKIM signature).
 */
export const mailHeaders = (language: Language, stop: StopMails | null): Record<string, string> => ({
  'Auto-Submitted': 'auto-generated',
  'Content-Language': language,
  ...(stop === null ? {} : stopHeaders(stop)),
});
