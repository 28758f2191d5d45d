import type { Day } from '../../../units.js';
import type { MailFrame } from '../notice/frame.js';
import type { NoticeKind } from '../notice/kind.js';
import { type SlotRule, textCause } from '../notice/notice.js';
import { ownVerdict } from '../notice/verdict.js';
import { reminderHold, riderWish } from '../notice/wish.js';

export interface SilenceContent extends MailFrame {
  /** The day of the last ride that came. */
  readonly since: Day;
  /** `handOver` null where there is no page to hand rides over. */
  readonly links: { readonly handOver: string | null; readonly stopMails: string } | null;
}

/** The day of the last ride. */
export const SINCE = textCause<Day>();

const SLOT: SlotRule = { mail: 'silence', when: 'a-day', sharesDay: ['silence', 'reminder', 'invitation'] };

/** Rides stopped arriving: the rider is asked whether they rest. */
export const silence: NoticeKind = {
  name: 'silence',
  slot: SLOT,
  company: 'yields',
  isUrgent: false,
  isOne: ({ occasion }) => occasion === 'silence',
  wishes: ({ riders }) =>
    riders.flatMap((rider) =>
      rider.silence === null
        ? []
        : [
            riderWish(rider.id, {
              slot: SLOT,
              cause: SINCE.write(rider.silence.since),
              hold: reminderHold(rider),
            }),
          ],
    ),
  // One that was told holds until a ride after its day; an earlier last ride, by a correction, is no new one.
  verdict: (wish, before) => ownVerdict('silence', before, (one) => one.cause >= wish.cause),
  holds: ({ to, cause }, { riders }) =>
    riders.some(
      (rider) => rider.id === to && rider.silence !== null && rider.silence.since <= SINCE.read(cause),
    ),
  mayGo: (_, rider) => reminderHold(rider) === null,
  why: ({ cause }) => `no ride since ${SINCE.read(cause)}`,
};
