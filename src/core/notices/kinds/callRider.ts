import type { NoticeKind } from '../notice/kind.js';
import { textCause, WORKSHOP } from '../notice/notice.js';
import { ownVerdict } from '../notice/verdict.js';
import { DIGEST, riderWish } from '../notice/wish.js';

/** Which address takes no mail. */
const ADDRESS = textCause();

/** The workshop is told once of an address that takes no mail. */
export const callRider: NoticeKind = {
  name: 'call-rider',
  slot: DIGEST,
  company: 'none',
  isUrgent: false,
  isOne: ({ occasion }) => occasion === 'call-rider',
  wishes: ({ riders }) =>
    riders
      .filter((rider) => rider.address === 'refused' && !rider.isUnsubscribed)
      .map((rider) => riderWish(WORKSHOP, { slot: DIGEST, cause: ADDRESS.write(rider.addressId) })),
  verdict: (wish, before) => ownVerdict('call-rider', before, (one) => one.cause === wish.cause),
  holds: ({ cause }, { riders }) =>
    riders.some((rider) => rider.addressId === ADDRESS.read(cause) && rider.address === 'refused'),
  mayGo: () => true,
  why: () => 'mail to a rider was refused for good: call them',
};
