import type { Day } from '../../units.js';
import { dayOf, daysBetween } from '../days/calendar.js';
import type { Occasion, State } from '../tokens.js';
import { keepsPlace, type PastNotice, type Subject, WORKSHOP } from './notice.js';
import { reasonKey, type Wish } from './noticeWishes.js';

/** *Defaults*. */
const REPEAT_AFTER_DAYS = 21;
const REMINDERS_A_PERIOD = 3;

/** How pressing a state is: what was told of a lesser one still holds in a greater one. */
const PRESSING: Readonly<Record<State, number>> = {
  'in-time': 0,
  'on-the-bench': 0,
  'history-unknown': 1,
  'coming-up': 1,
  due: 2,
  'over-interval': 3,
  'stop-riding': 4,
};

/**
 * Returns whether a state that was told is still true of the unit's service kind, or worse is; a crash mark is the
 * whole unit's. Shape: `unit` is all subjects of the unit.
 */
export function stillHolds(told: PastNotice, unit: readonly Subject[]): boolean {
  const subjects = unit.filter(({ riderId }) => told.to === WORKSHOP || told.to === riderId);
  if (told.state === 'stop-riding')
    return subjects.some(
      ({ standing, markId }) => standing.state === 'stop-riding' && told.cause === (markId ?? ''),
    );
  const standing = subjects.find((one) => one.standing.serviceKind === told.serviceKind)?.standing;
  if (!standing || told.state === null || told.periodId !== standing.periodId) return false;
  if (told.state === 'history-unknown' || standing.state === 'history-unknown')
    return told.state === standing.state || standing.state === 'stop-riding';
  return PRESSING[standing.state] >= PRESSING[told.state];
}

export type Verdict =
  | { readonly occasion: Occasion; readonly told: null }
  | { readonly occasion: Occasion; readonly told: PastNotice; readonly reason: string };

const hasGone = (notice: PastNotice): boolean => notice.hasLapsed || notice.status === 'withdrawn';

function toldAlready(told: PastNotice, zone: string): Verdict {
  const { occasion, status, settledAt, sendAt } = told;
  const on = dayOf(settledAt ?? sendAt, zone);
  const reason = {
    queued: `waits for ${on}`,
    'handed-over': `handed over on ${on}`,
    refused: `refused for good on ${on}`,
    withdrawn: `was on its way on ${on} when it was withdrawn`,
  }[status];
  return { occasion, told, reason };
}

/** A repeat goes to the rider alone, of "coming up" alone, where no answer came after it was told. */
function isRepeatDue(wish: Wish, last: PastNotice, today: Day, zone: string): boolean {
  if (wish.state !== 'coming-up' || wish.to === WORKSHOP || last.status !== 'handed-over') return false;
  if (last.settledAt === null || daysBetween(dayOf(last.settledAt, zone), today) < REPEAT_AFTER_DAYS)
    return false;
  return !isAnswered(wish, last);
}

const isAnswered = ({ subject }: Wish, told: PastNotice): boolean =>
  told.settledAt !== null && (subject?.answer?.at ?? Number.NEGATIVE_INFINITY) >= told.settledAt;

/** Returns whether a waiting repeat has lost its reason because the rider answered meanwhile. */
export const isRepeatAnswered = (repeat: PastNotice, wish: Wish, history: readonly PastNotice[]): boolean =>
  repeat.occasion === 'repeat' &&
  history.some(
    (one) =>
      one !== repeat && reasonKey(one) === reasonKey(repeat) && keepsPlace(one) && isAnswered(wish, one),
  );

function verdictOfMarks(wish: Wish, history: readonly PastNotice[]): Occasion {
  const isLaterMark = history.some(
    (one) =>
      keepsPlace(one) &&
      one.state === wish.state &&
      one.unitId === wish.unitId &&
      one.periodId === wish.periodId,
  );
  return isLaterMark ? 'again' : 'first';
}

const occasionOfOwn = (mail: Wish['mail']): Occasion =>
  mail === 'silence' ? 'silence' : mail === 'digest' ? 'call-rider' : 'confirm-address';

/** A silence that was told holds until a ride after its day; an earlier last ride, by a correction, is no new one. */
function verdictOfOwn(wish: Wish, history: readonly PastNotice[], zone: string): Verdict {
  const occasion = occasionOfOwn(wish.mail);
  const told = history.find(
    (one) =>
      keepsPlace(one) &&
      one.occasion === occasion &&
      (occasion === 'silence' ? one.cause >= wish.cause : one.cause === wish.cause),
  );
  return told ? toldAlready(told, zone) : { occasion, told: null };
}

/**
 * Returns on which occasion a wish would be told now, or by which past notice it was.
 * Shape: `history` is all to this recipient, without what is withdrawn unsent.
 */
export function verdictOn(wish: Wish, history: readonly PastNotice[], today: Day, zone: string): Verdict {
  if (wish.state === null) return verdictOfOwn(wish, history, zone);
  const key = reasonKey(wish);
  const told = history.filter((one) => keepsPlace(one) && reasonKey(one) === key);
  if (told.length === 0) {
    const occasion = wish.state === 'stop-riding' ? verdictOfMarks(wish, history) : 'first';
    return { occasion, told: null };
  }
  const waiting = told.find((one) => one.status === 'queued');
  if (waiting) return toldAlready(waiting, zone);
  const last = told.reduce((a, b) => ((b.settledAt ?? b.sendAt) > (a.settledAt ?? a.sendAt) ? b : a));
  const isFree = (occasion: Occasion): boolean => !told.some((one) => one.occasion === occasion);
  if (wish.state !== 'history-unknown' && told.every(hasGone) && isFree('again'))
    return { occasion: 'again', told: null };
  if (!hasGone(last) && isFree('repeat') && isRepeatDue(wish, last, today, zone))
    return { occasion: 'repeat', told: null };
  return toldAlready(last, zone);
}

/** Returns whether the rider has had the most reminders that a service period allows, other than on this day. */
export function hasHadAll(wish: Wish, history: readonly PastNotice[], day: Day): boolean {
  const days = history
    .filter(
      (one) =>
        keepsPlace(one) &&
        one.mail === 'reminder' &&
        one.unitId === wish.unitId &&
        one.serviceKind === wish.serviceKind &&
        one.periodId === wish.periodId &&
        one.day !== day,
    )
    .map((one) => one.day);
  return new Set(days).size >= REMINDERS_A_PERIOD;
}
