/** What became of earlier notices, and on which occasion a reason would be told now. */
import type { Day } from '../../../units.js';
import { dayOf, daysBetween } from '../../days/calendar.js';
import type { Occasion } from '../../tokens.js';
import { isOpen, keepsPlace, type PastNotice } from './notice.js';
import { reasonKey, type Wish } from './wish.js';

/** *Defaults*. */
const REPEAT_AFTER_DAYS = 21;

export type Verdict =
  | { readonly occasion: Occasion; readonly told: null }
  | { readonly occasion: Occasion; readonly told: PastNotice; readonly reason: string };

/** What a wish is judged by. Shape: `past` is all to its recipient, without what is withdrawn unsent. */
export interface Before {
  readonly past: readonly PastNotice[];
  readonly today: Day;
  readonly zone: string;
}

const hasGone = (notice: PastNotice): boolean => notice.hasLapsed || notice.status === 'withdrawn';

function toldAlready(told: PastNotice, zone: string): Verdict {
  const { occasion, status, settledAt, sendAt } = told;
  const on = dayOf(settledAt ?? sendAt, zone);
  const reason = {
    queued: `waits for ${on}`,
    'not-sent': `not sent: there was no relay on ${on}`,
    'handed-over': `handed over on ${on}`,
    refused: `refused for good on ${on}`,
    withdrawn: `was on its way on ${on} when it was withdrawn`,
  }[status];
  return { occasion, told, reason };
}

const isAnswered = ({ subject }: Wish, told: PastNotice): boolean =>
  told.settledAt !== null && (subject?.answer?.at ?? Number.NEGATIVE_INFINITY) >= told.settledAt;

function isRepeatDue(wish: Wish, last: PastNotice, { today, zone }: Before): boolean {
  if (last.status !== 'handed-over' || last.settledAt === null) return false;
  return daysBetween(dayOf(last.settledAt, zone), today) >= REPEAT_AFTER_DAYS && !isAnswered(wish, last);
}

/** Returns whether a waiting repeat has lost its reason because the rider answered meanwhile. */
export const isRepeatAnswered = (repeat: PastNotice, wish: Wish, history: readonly PastNotice[]): boolean =>
  repeat.occasion === 'repeat' &&
  history.some(
    (one) =>
      one !== repeat && reasonKey(one) === reasonKey(repeat) && keepsPlace(one) && isAnswered(wish, one),
  );

/** How often a reason about a unit is told. */
export interface Telling {
  /** On which occasion, where it never was. */
  readonly first: 'first' | 'again';
  /** Told again when it returns after it was gone. */
  readonly returns: boolean;
  /** Told once more after weeks without an answer. */
  readonly repeats: boolean;
}

/** Returns the verdict on a wish about a unit. */
export function unitVerdict(wish: Wish, before: Before, { first, returns, repeats }: Telling): Verdict {
  const key = reasonKey(wish);
  const told = before.past.filter((one) => keepsPlace(one) && reasonKey(one) === key);
  if (told.length === 0) return { occasion: first, told: null };
  const waiting = told.find(isOpen);
  if (waiting) return toldAlready(waiting, before.zone);
  const last = told.reduce((a, b) => ((b.settledAt ?? b.sendAt) > (a.settledAt ?? a.sendAt) ? b : a));
  const isFree = (occasion: Occasion): boolean => !told.some((one) => one.occasion === occasion);
  if (returns && told.every(hasGone) && isFree('again')) return { occasion: 'again', told: null };
  if (repeats && !hasGone(last) && isFree('repeat') && isFree('again') && isRepeatDue(wish, last, before))
    return { occasion: 'repeat', told: null };
  return toldAlready(last, before.zone);
}

/** Returns the verdict on a wish that has an occasion of its own: told once for what `isTold` finds. */
export function ownVerdict(
  occasion: Occasion,
  { past, zone }: Before,
  isTold: (one: PastNotice) => boolean,
): Verdict {
  const told = past.find((one) => keepsPlace(one) && one.occasion === occasion && isTold(one));
  return told ? toldAlready(told, zone) : { occasion, told: null };
}

/**
 * Returns whether a rider was told everything but the first word of each state in this service period: the first of
 * coming up, due and over always go, and beside them one repeat or one again.
 */
export const hasHadExtra = (wish: Wish, occasion: Occasion, history: readonly PastNotice[]): boolean =>
  (occasion === 'again' || occasion === 'repeat') &&
  history.some(
    (one) =>
      keepsPlace(one) &&
      one.status !== 'not-sent' &&
      one.mail === 'reminder' &&
      (one.occasion === 'again' || one.occasion === 'repeat') &&
      one.unitId === wish.unitId &&
      one.serviceKind === wish.serviceKind &&
      one.periodId === wish.periodId,
  );
