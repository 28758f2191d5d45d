import { callRider } from './kinds/callRider.js';
import { confirmAddress } from './kinds/confirmAddress.js';
import { historyUnknown } from './kinds/historyUnknown.js';
import { invitation } from './kinds/invitation.js';
import { serviceDue } from './kinds/serviceDue.js';
import { silence } from './kinds/silence.js';
import { stopRiding } from './kinds/stopRiding.js';
import type { NoticeKind } from './notice/kind.js';
import type { NoticeKey } from './notice/notice.js';

/** Every kind of notice; what presses most is decided first, so that a bound on mails holds back the least pressing. */
export const NOTICE_KINDS: readonly NoticeKind[] = [
  stopRiding,
  serviceDue,
  historyUnknown,
  silence,
  invitation,
  confirmAddress,
  callRider,
];

/** Returns the kind of a wish or a past notice. Errors: RangeError for one that no kind knows. */
export function kindOf(notice: Pick<NoticeKey, 'state' | 'occasion'>): NoticeKind {
  const kind = NOTICE_KINDS.find((one) => one.isOne(notice));
  if (kind) return kind;
  throw new RangeError(`No kind of notice tells of ${notice.state} on the occasion ${notice.occasion}.`);
}
