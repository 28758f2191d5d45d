import type { MailKind } from '../../core/notices/notice/notice.js';
import { booking } from './kinds/booking.js';
import { confirmAddress } from './kinds/confirmAddress.js';
import { dayAsked, dayMoved, dayWithdrawn } from './kinds/dayAsked.js';
import { digest } from './kinds/digest.js';
import { filesTaken } from './kinds/filesTaken.js';
import { found } from './kinds/found.js';
import { invitation } from './kinds/invitation.js';
import { jobQuestion } from './kinds/jobQuestion.js';
import { freshLink, ownPage } from './kinds/link.js';
import type { MailSource } from './kinds/mailKind.js';
import { ready } from './kinds/ready.js';
import { reminder } from './kinds/reminder.js';
import { silence } from './kinds/silence.js';
import { stopRiding } from './kinds/stopRiding.js';

/** What each kind of mail is written from. */
export const MAIL_KINDS: Readonly<Record<MailKind, MailSource>> = {
  'stop-riding': stopRiding,
  reminder,
  silence,
  invitation,
  digest,
  'confirm-address': confirmAddress,
  booking,
  'fresh-link': freshLink,
  'own-page': ownPage,
  'day-asked': dayAsked,
  'day-withdrawn': dayWithdrawn,
  'day-moved': dayMoved,
  ready,
  'files-taken': filesTaken,
  'service-told': found,
  'job-question': jobQuestion,
};
