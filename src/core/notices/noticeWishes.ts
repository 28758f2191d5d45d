import type { Day } from '../../units.js';
import { type Offer, offersFor } from '../ledger/offer.js';
import type { ServiceKind } from '../tokens.js';
import {
  type MailKind,
  type NoticeInput,
  type NoticeKey,
  type NoticeRider,
  type Recipient,
  type Subject,
  WORKSHOP,
} from './notice.js';

/** A reason to tell somebody something today, whether or not it was told before. */
export interface Wish extends Omit<NoticeKey, 'occasion'> {
  readonly mail: MailKind;
  readonly subject: Subject | null;
  readonly offer: ServiceKind | null;
  /** Why it must not be told now, if so. */
  readonly hold: string | null;
}

/** Returns the same text for notices and wishes of one reason; of a crash mark whatever the service period. */
export const reasonKey = (of: Omit<NoticeKey, 'occasion'>): string =>
  of.state === 'stop-riding'
    ? JSON.stringify([of.to, of.unitId, of.state, of.cause])
    : JSON.stringify([of.to, of.unitId, of.serviceKind, of.periodId, of.state, of.cause]);

function addressHold(rider: NoticeRider | undefined): string | null {
  if (!rider || rider.address === 'none') return 'no address: call this rider';
  if (rider.address === 'refused') return 'mail to this address was refused for good: call this rider';
  if (rider.address === 'unconfirmed') return 'the address is not confirmed yet';
  return rider.isUnsubscribed ? 'the rider stopped reminder mails: call them' : null;
}

/** Returns whether the rider's answer asks for silence about the unit on a day. */
export const isQuiet = ({ answer }: Subject, today: Day): boolean => (answer?.quietUntil ?? '') > today;

function quietHold(subject: Subject, today: Day): string | null {
  const until = subject.answer?.quietUntil;
  return isQuiet(subject, today) ? `the rider answered: nothing more before ${until}` : null;
}

const largestFirst = (a: Subject, b: Subject): number =>
  b.restarts.length - a.restarts.length || (a.standing.serviceKind < b.standing.serviceKind ? -1 : 1);

const wishOf = (
  to: Recipient,
  subject: Subject,
  rest: Partial<Pick<Wish, 'mail' | 'offer' | 'hold'>>,
): Wish => ({
  to,
  unitId: subject.standing.unitId,
  serviceKind: subject.standing.serviceKind,
  periodId: subject.standing.periodId,
  state: subject.standing.state,
  cause: subject.standing.state === 'stop-riding' ? (subject.markId ?? '') : '',
  mail: to === WORKSHOP ? 'digest' : 'reminder',
  subject,
  offer: null,
  hold: null,
  ...rest,
});

/** One for the unit: a crash mark stands above all its service kinds. */
function stopWishes(unit: readonly Subject[], rider: NoticeRider | undefined): Wish[] {
  const [subject] = unit.filter(({ standing }) => standing.state === 'stop-riding').sort(largestFirst);
  if (!subject) return [];
  const told = [wishOf(WORKSHOP, subject, { mail: 'stop-riding' })];
  if (subject.riderId !== null)
    told.push(wishOf(subject.riderId, subject, { mail: 'stop-riding', hold: addressHold(rider) }));
  return told;
}

/** One for the unit: the largest job opens it furthest. */
function unknownWishes(unit: readonly Subject[], rider: NoticeRider | undefined): Wish[] {
  const unknown = unit.filter(({ standing }) => standing.state === 'history-unknown').sort(largestFirst);
  return unknown.flatMap((subject, place) => {
    const hold = place === 0 ? null : `told with ${unknown[0]!.standing.serviceKind}`;
    const forWorkshop = wishOf(WORKSHOP, subject, { hold });
    if (subject.riderId === null) return [forWorkshop];
    return [forWorkshop, wishOf(subject.riderId, subject, { hold: hold ?? addressHold(rider) })];
  });
}

function dueWishes(unit: readonly Subject[], rider: NoticeRider | undefined, today: Day): Wish[] {
  const offers = offersFor(unit, today);
  const offerOf = ({ standing }: Subject): Offer | undefined =>
    offers.find((offer) => offer.includes.includes(standing.serviceKind));
  return unit.flatMap((subject) => {
    const offer = offerOf(subject);
    if (!offer) return [];
    const kind = subject.standing.serviceKind;
    const larger = offer.serviceKind === kind ? null : offer.serviceKind;
    const forWorkshop = wishOf(WORKSHOP, subject, { offer: larger });
    if (subject.riderId === null) return [forWorkshop];
    const included = offer.wanted === kind ? null : `included in ${offer.wanted}, which is told instead`;
    const hold = addressHold(rider) ?? included ?? quietHold(subject, today);
    return [forWorkshop, wishOf(subject.riderId, subject, { offer: larger, hold })];
  });
}

const riderWish = (to: Recipient, mail: MailKind, cause: string, hold: string | null): Wish => ({
  to,
  unitId: null,
  serviceKind: null,
  periodId: null,
  state: null,
  cause,
  mail,
  subject: null,
  offer: null,
  hold,
});

/**
 * An address is confirmed when there is something to tell; an unknown history alone is no reason for a mail. The
 * workshop is told once of an address that takes no mail.
 */
function ownWishes(rider: NoticeRider, ofUnits: readonly Wish[]): Wish[] {
  const wishes: Wish[] = [];
  const silence = rider.silence;
  if (silence) wishes.push(riderWish(rider.id, 'silence', silence.since, addressHold(rider)));
  const hasReason = silence !== null || ofUnits.some((wish) => wish.state !== 'history-unknown');
  if (rider.address === 'unconfirmed' && !rider.isUnsubscribed && hasReason)
    wishes.push(riderWish(rider.id, 'confirm-address', rider.addressId, null));
  if (rider.address === 'refused' && !rider.isUnsubscribed)
    wishes.push(riderWish(WORKSHOP, 'digest', rider.addressId, null));
  return wishes;
}

/** Returns the items by key, both in the order in which they stand. */
export function groupBy<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group) group.push(item);
    else groups.set(keyOf(item), [item]);
  }
  return groups;
}

/** Returns every reason to tell somebody something today, from where things stand today alone. */
export function wishesFor({ subjects, riders }: NoticeInput, today: Day): Wish[] {
  const riderById = new Map(riders.map((rider) => [rider.id, rider]));
  const ofUnits = [...groupBy(subjects, ({ standing }) => standing.unitId).values()].flatMap((unit) => {
    const rider = riderById.get(unit[0]!.riderId ?? '');
    return [...stopWishes(unit, rider), ...dueWishes(unit, rider, today), ...unknownWishes(unit, rider)];
  });
  const byRecipient = groupBy(ofUnits, (wish) => wish.to);
  return [...ofUnits, ...riders.flatMap((rider) => ownWishes(rider, byRecipient.get(rider.id) ?? []))];
}
