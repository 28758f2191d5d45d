import { languageOf } from '../languages/index.js';
import type { MailWriter } from '../ports/mailer.js';
import { renderDigest } from './digest.js';
import { renderBooking, renderConfirmAddress, renderDayAsked, renderLink, renderSilence } from './letters.js';
import { mailHeaders } from './mailHeaders.js';
import { renderReminder } from './reminder.js';

/** Returns mails in the reader's language. */
export const mailWriter: MailWriter = {
  reminder: renderReminder,
  digest: renderDigest,
  confirmAddress: renderConfirmAddress,
  silence: renderSilence,
  booking: renderBooking,
  link: renderLink,
  dayAsked: renderDayAsked,
  headers: (language, stop) => mailHeaders(languageOf(language), stop),
};
