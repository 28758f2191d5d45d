import type { MailFrame } from '../notice/frame.js';
import type { NoticeKind } from '../notice/kind.js';
import { type NoticeRider, type SlotRule, textCause } from '../notice/notice.js';
import { ownVerdict } from '../notice/verdict.js';
import { riderWish } from '../notice/wish.js';

export interface ConfirmContent extends MailFrame {
  readonly link: string | null;
}

/** Which address it asks about. */
const ADDRESS = textCause();

const SLOT: SlotRule = { mail: 'confirm-address', when: 'a-day', sharesDay: ['confirm-address'] };

const isAsked = (rider: NoticeRider | undefined): rider is NoticeRider =>
  rider?.address === 'unconfirmed' && !rider.isUnsubscribed;

/** An address is confirmed once there is something to tell; an unknown history alone is no reason for a mail. */
export const confirmAddress: NoticeKind = {
  name: 'confirm-address',
  slot: SLOT,
  company: 'none',
  isUrgent: false,
  isOne: ({ occasion }) => occasion === 'confirm-address',
  wishes: ({ riders }, before) => {
    const told = new Set(before.filter(({ state }) => state !== 'history-unknown').map(({ to }) => to));
    return riders
      .filter((rider) => isAsked(rider) && told.has(rider.id))
      .map((rider) => riderWish(rider.id, { slot: SLOT, cause: ADDRESS.write(rider.addressId) }));
  },
  verdict: (wish, before) => ownVerdict('confirm-address', before, (one) => one.cause === wish.cause),
  holds: ({ to, cause }, { riders }) =>
    riders.some((rider) => rider.id === to && rider.addressId === ADDRESS.read(cause)),
  mayGo: (_, rider) => isAsked(rider),
  why: () => 'the address is not confirmed yet',
};
