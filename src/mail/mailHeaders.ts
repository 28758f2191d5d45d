import type { Language } from '../languages/index.js';
import type { StopWays } from '../ports/mailer.js';

const mailtoOf = (address: string): string =>
  `<mailto:${encodeURI(address).replaceAll('?', '%3F')}?subject=stop>`;

const isPublicHttps = (url: string): boolean => URL.canParse(url) && new URL(url).protocol === 'https:';

const stopHeaders = ({ oneClickUrl, address }: StopWays): Record<string, string> => {
  if (oneClickUrl === null || !isPublicHttps(oneClickUrl)) return { 'List-Unsubscribe': mailtoOf(address) };
  return {
    'List-Unsubscribe': `<${new URL(oneClickUrl).href}>, ${mailtoOf(address)}`,
    'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click',
  };
};

/**
 * Returns the headers of a mail beyond its addresses, subject, date and id; `stop` null for mails that cannot be
 * unsubscribed from (a booking, an address to confirm).
 * Source: RFC 3834 5.2 (Auto-Submitted), RFC 2369 (List-Unsubscribe), RFC 8058 3.1 (one click only over HTTPS and
 * under a DKIM signature).
 */
export const mailHeaders = (language: Language, stop: StopWays | null): Record<string, string> => ({
  'Auto-Submitted': 'auto-generated',
  'Content-Language': language,
  ...(stop === null ? {} : stopHeaders(stop)),
});
