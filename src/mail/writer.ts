import type { MailWriter } from '../ports.js';
import { languageOf } from '../words/index.js';
import { renderDigest } from './digest.js';
import { renderConfirmAddress, renderSilence } from './letters.js';
import { mailHeaders } from './mailHeaders.js';
import { renderReminder } from './reminder.js';

/** Returns mails in the reader's language; a mail can be stopped by a mail to the workshop. */
export const mailWriter: MailWriter = {
  reminder: renderReminder,
  digest: renderDigest,
  confirmAddress: renderConfirmAddress,
  silence: renderSilence,
  headers: (language, stopAddress) =>
    mailHeaders(
      languageOf(language),
      stopAddress === null ? null : { oneClickUrl: null, signed: false, address: stopAddress },
    ),
};
