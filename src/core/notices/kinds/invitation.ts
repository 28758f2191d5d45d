import type { Day } from '../../../units.js';
import type { ServiceKind, UnitKind } from '../../tokens.js';
import type { MailFrame } from '../notice/frame.js';
import type { NoticeKind } from '../notice/kind.js';
import type { CauseText, Invitation, SlotRule } from '../notice/notice.js';
import { ownVerdict } from '../notice/verdict.js';
import { reminderHold, riderWish } from '../notice/wish.js';

/** One unit that is invited into a quiet week, and for what. */
export interface InvitedJob {
  readonly bike: string;
  readonly tag: string;
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
  readonly price: string | null;
  readonly turnaround: string | null;
  /** Pages to ask for a day, and to be left in peace. */
  readonly links: { readonly askForDay: string; readonly later: string } | null;
}

/** Into a quiet week of the bench; it never says that something is late. */
export interface InvitationContent extends MailFrame {
  readonly week: { readonly from: Day; readonly to: Day };
  /** The first day of the busy months that follow. */
  readonly before: Day;
  readonly jobs: readonly InvitedJob[];
  /** Days of that week with a place. */
  readonly freeDays: readonly Day[];
  readonly links: { readonly ownPage: string; readonly stopMails: string } | null;
}

/** Which unit, and before which busy months: once for both. */
export const INVITED: CauseText<Pick<Invitation, 'unitId' | 'before'>> = {
  write: ({ unitId, before }) => JSON.stringify([unitId, before]) as ReturnType<typeof INVITED.write>,
  read: (text) => {
    const [unitId, before] = JSON.parse(text) as [string, Day];
    return { unitId, before };
  },
};

const SLOT: SlotRule = {
  mail: 'invitation',
  when: 'a-day',
  sharesDay: ['invitation', 'reminder', 'silence'],
};

/** The workshop chose to invite a rider into a quiet week: once a unit and winter, beside what is told of its state. */
export const invitation: NoticeKind = {
  name: 'invitation',
  slot: SLOT,
  company: 'yields',
  isUrgent: false,
  isOne: ({ occasion }) => occasion === 'invitation',
  wishes: ({ riders, invitations = [] }) =>
    invitations.flatMap((one) => {
      if (!one.isOpen || one.riderId === null) return [];
      const rider = riders.find(({ id }) => id === one.riderId);
      return [riderWish(one.riderId, { slot: SLOT, cause: INVITED.write(one), hold: reminderHold(rider) })];
    }),
  verdict: (wish, before) => ownVerdict('invitation', before, (one) => one.cause === wish.cause),
  holds: ({ to, cause }, { invitations = [] }) =>
    invitations.some((one) => one.isOpen && one.riderId === to && INVITED.write(one) === cause),
  mayGo: (_, rider) => reminderHold(rider) === null,
  why: ({ cause }) => `invited before ${INVITED.read(cause).before}`,
};
