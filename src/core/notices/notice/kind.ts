import type { Day } from '../../../units.js';
import { isAtLeast } from '../../states.js';
import {
  type Invitation,
  type NoticeKey,
  type NoticeRider,
  type PastNotice,
  type SlotRule,
  type Subject,
  WORKSHOP,
} from './notice.js';
import type { Before, Verdict } from './verdict.js';
import type { Wish } from './wish.js';

/** All that wishes come from. */
export interface Situation {
  readonly today: Day;
  /** The service kinds of each unit, and whose bike it is on. */
  readonly units: readonly { readonly all: readonly Subject[]; readonly rider: NoticeRider | undefined }[];
  readonly riders: readonly NoticeRider[];
  readonly invitations?: readonly Invitation[];
}

/** What is known now of what a notice told. */
export interface NowOf {
  readonly today: Day;
  /** All service kinds of its unit. */
  readonly unit: readonly Subject[];
  /** Who it goes to, or is about. */
  readonly riders: readonly NoticeRider[];
  /** That a notice to a rider may be about; left out: none. */
  readonly invitations?: readonly Invitation[];
}

/** Everything about a kind of notice but its words: the table of kinds is all that deciding walks. */
export interface NoticeKind {
  readonly name: string;
  isOne(notice: Pick<NoticeKey, 'state' | 'occasion'>): boolean;
  /** The mail that tells a rider of it, or the workshop where no rider is told. */
  readonly slot: SlotRule;
  /** Of mails that would share a day: `brings` others along, `needs` one that does, `yields` to it, or goes by itself. */
  readonly company: 'brings' | 'needs' | 'yields' | 'none';
  /** Goes before reminders have begun. */
  readonly isUrgent: boolean;
  /**
   * Returns every reason to tell somebody today, with what holds it back; the most pressing first.
   * Shape: `before` are the wishes of the kinds that stand earlier in the table.
   */
  wishes(situation: Situation, before: readonly Wish[]): readonly Wish[];
  /** Returns on which occasion a wish would be told now, or by which past notice it was. */
  verdict(wish: Wish, before: Before): Verdict;
  /** Returns whether what was told is still so, or worse. */
  holds(told: PastNotice, now: NowOf): boolean;
  /** Returns whether a waiting one may go to its rider: they may be told, and have not asked for quiet. */
  mayGo(told: Pick<PastNotice, 'serviceKind'>, rider: NoticeRider | undefined, now: NowOf): boolean;
  /** Returns why it is told, for whoever reads the list of decisions. */
  why(wish: Wish): string;
}

/** Returns whether a state that was told is still true of the unit's service kind, or worse is. */
export function stateHolds(told: PastNotice, { unit }: NowOf): boolean {
  const standing = unit
    .filter(({ riderId }) => told.to === WORKSHOP || told.to === riderId)
    .find((one) => one.standing.serviceKind === told.serviceKind)?.standing;
  if (!standing || told.state === null || told.periodId !== standing.periodId) return false;
  if (told.state === 'history-unknown' || standing.state === 'history-unknown')
    return told.state === standing.state || standing.state === 'stop-riding';
  return isAtLeast(standing.state, told.state);
}
