import type { Day } from '../../../units.js';
import type { ServiceKind } from '../../tokens.js';
import {
  NO_CAUSE,
  type NoticeKey,
  type NoticeRider,
  type Recipient,
  type SlotRule,
  type Subject,
  WORKSHOP,
} from './notice.js';

/** A reason to tell somebody something today, whether or not it was told before. */
export interface Wish extends Omit<NoticeKey, 'occasion'> {
  readonly slot: SlotRule;
  readonly subject: Subject | null;
  readonly offer: ServiceKind | null;
  /** Why it must not be told now, if so. */
  readonly hold: string | null;
}

/** The workshop's list of the day: all that it is told, whatever the kind. */
export const DIGEST: SlotRule = { mail: 'digest', when: 'an-open-day', sharesDay: ['digest'] };
/** All that a rider is reminded of. */
export const REMINDER: SlotRule = {
  mail: 'reminder',
  when: 'a-day',
  sharesDay: ['reminder', 'silence', 'invitation'],
};

/** Returns the same text for notices and wishes of one reason; of a crash mark whatever the service period. */
export const reasonKey = (of: Omit<NoticeKey, 'occasion'>): string =>
  of.state === 'stop-riding'
    ? JSON.stringify([of.to, of.unitId, of.state, of.cause])
    : JSON.stringify([of.to, of.unitId, of.serviceKind, of.periodId, of.state, of.cause]);

/** Returns why no mail about rides can go to a rider, if so. */
export function addressHold(rider: NoticeRider | undefined): string | null {
  if (!rider || rider.address === 'none') return 'no address: call this rider';
  if (rider.address === 'refused') return 'mail to this address was refused for good: call this rider';
  return rider.address === 'unconfirmed' ? 'the address is not confirmed yet' : null;
}

/** Returns why no reminder may go to a rider, if so. */
export const reminderHold = (rider: NoticeRider | undefined): string | null =>
  addressHold(rider) ??
  (rider?.isUnsubscribed ? 'the rider stopped reminder mails: call them' : null) ??
  (rider?.isSettling ? 'rides that just came ask for their bike first' : null);

/** Returns whether the rider's answer asks for silence about the unit on a day. */
export const isQuiet = ({ answer }: Subject, today: Day): boolean => (answer?.quietUntil ?? '') > today;

/** For the order of service kinds: the one that opens the unit furthest first. */
export const largestFirst = (a: Subject, b: Subject): number =>
  b.restarts.length - a.restarts.length || (a.standing.serviceKind < b.standing.serviceKind ? -1 : 1);

/** Returns a wish about a service kind of a unit: for the workshop's list, or a rider's reminder. */
export const unitWish = (
  to: Recipient,
  subject: Subject,
  rest: Partial<Pick<Wish, 'slot' | 'offer' | 'hold' | 'cause'>> = {},
): Wish => ({
  to,
  unitId: subject.standing.unitId,
  serviceKind: subject.standing.serviceKind,
  periodId: subject.standing.periodId,
  state: subject.standing.state,
  cause: NO_CAUSE,
  slot: to === WORKSHOP ? DIGEST : REMINDER,
  subject,
  offer: null,
  hold: null,
  ...rest,
});

/** Returns a wish about a rider, not about a unit. */
export const riderWish = (
  to: Recipient,
  of: Pick<Wish, 'slot' | 'cause'> & Partial<Pick<Wish, 'hold'>>,
): Wish => ({
  to,
  unitId: null,
  serviceKind: null,
  periodId: null,
  state: null,
  subject: null,
  offer: null,
  hold: null,
  ...of,
});
