import type { MailContents, ToldMail } from '../core/notices/mailContent.js';
import type { MailKind } from '../core/notices/notice/notice.js';
import { languageOf } from '../languages/index.js';
import type { MailWriter } from '../ports/mailer.js';
import { renderDigest } from './digest.js';
import { renderFilesTaken } from './filesTaken.js';
import { renderFound } from './found.js';
import { renderInvitation } from './invitation.js';
import { renderJobQuestion } from './jobQuestion.js';
import {
  renderBooking,
  renderConfirmAddress,
  renderDayAsked,
  renderDayMoved,
  renderDayWithdrawn,
  renderLink,
  renderReady,
  renderSilence,
} from './letters.js';
import { mailHeaders } from './mailHeaders.js';
import { renderReminder } from './reminder.js';
import { renderStopRiding } from './stopRiding.js';

type Written = ReturnType<MailWriter['write']>;

/** The letter of each kind of mail. */
const LETTERS: { readonly [K in MailKind]: (content: MailContents[K]) => Written } = {
  reminder: renderReminder,
  'stop-riding': renderStopRiding,
  digest: renderDigest,
  'confirm-address': renderConfirmAddress,
  silence: renderSilence,
  invitation: renderInvitation,
  booking: renderBooking,
  'fresh-link': renderLink,
  'own-page': renderLink,
  'day-asked': renderDayAsked,
  'day-withdrawn': renderDayWithdrawn,
  'day-moved': renderDayMoved,
  ready: renderReady,
  'files-taken': renderFilesTaken,
  'service-told': renderFound,
  'job-question': renderJobQuestion,
};

/** Returns mails in the reader's language. */
export const mailWriter: MailWriter = {
  write: <K extends MailKind>({ mail, content }: ToldMail<K>) => LETTERS[mail](content),
  headers: (language, stop) => mailHeaders(languageOf(language), stop),
};
