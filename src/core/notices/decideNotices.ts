import type { Day } from '../../units.js';
import { dayOf } from '../days/calendar.js';
import { groupBy } from '../groupBy.js';
import type { Occasion } from '../tokens.js';
import { kindOf } from './kinds.js';
import { slotFor } from './mailSlots.js';
import type { NoticeKind } from './notice/kind.js';
import {
  type Decision,
  isOpen,
  keepsPlace,
  type MailKind,
  type MailSlot,
  type NoticeInput,
  type PastNotice,
  type Recipient,
  type SlotRule,
  type Subject,
} from './notice/notice.js';
import { hasHadExtra, isRepeatAnswered, type Verdict } from './notice/verdict.js';
import { reasonKey, type Wish } from './notice/wish.js';
import { type KindWish, wishesFor } from './wishes.js';

/** All past notices by recipient, and by recipient and unit; as they are once this run's withdrawals are made. */
class History {
  readonly #byUnit: ReadonlyMap<string, readonly PastNotice[]>;
  readonly #byRecipient: ReadonlyMap<string, readonly PastNotice[]>;

  constructor(past: readonly PastNotice[]) {
    const kept = past.filter(keepsPlace);
    this.#byUnit = groupBy(kept, (notice) => `${notice.to} ${notice.unitId}`);
    this.#byRecipient = groupBy(kept, (notice) => notice.to);
  }

  listAbout(of: { readonly to: Recipient; readonly unitId: string | null }): readonly PastNotice[] {
    return this.#byUnit.get(`${of.to} ${of.unitId}`) ?? [];
  }

  listTo(to: Recipient): readonly PastNotice[] {
    return this.#byRecipient.get(to) ?? [];
  }
}

const decisionOn = (
  about: Wish | PastNotice,
  occasion: Occasion,
  decision: Decision['decision'],
  reason: string,
  rest: Partial<Pick<Decision, 'noticeId' | 'slot' | 'offer' | 'isBehind'>> = {},
): Decision => ({
  to: about.to,
  unitId: about.unitId,
  serviceKind: about.serviceKind,
  periodId: about.periodId,
  state: about.state,
  occasion,
  cause: about.cause,
  decision,
  reason,
  noticeId: null,
  slot: null,
  offer: null,
  ...rest,
});

const withdraw = (notice: PastNotice, reason: string): Decision =>
  decisionOn(notice, notice.occasion, 'withdraw', reason, { noticeId: notice.id });

const RELAY_CAME = 'it was never sent: checked again, now that there is a relay';

/** Waiting notices whose reason has gone, or that must not go now. */
function withdrawals(
  { past, hasRelay }: NoticeInput,
  wishes: readonly KindWish[],
  history: History,
): Decision[] {
  const byReason = new Map(wishes.map(({ wish }) => [reasonKey(wish), wish]));
  return past.flatMap((notice) => {
    if (!isOpen(notice)) return [];
    if (notice.status === 'not-sent' && hasRelay) return [withdraw(notice, RELAY_CAME)];
    const wish = byReason.get(reasonKey(notice));
    if (!wish) return [withdraw(notice, 'its reason has gone')];
    if (wish.hold !== null) return [withdraw(notice, wish.hold)];
    const isAnswered = isRepeatAnswered(notice, wish, history.listAbout(notice));
    return isAnswered ? [withdraw(notice, 'the rider answered')] : [];
  });
}

/** Sent notices about a unit whose reason has gone. */
function lapses(past: readonly PastNotice[], subjects: readonly Subject[], today: Day): Decision[] {
  const units = groupBy(subjects, ({ standing }) => standing.unitId);
  const isStill = (one: PastNotice): boolean =>
    kindOf(one).holds(one, { today, unit: units.get(one.unitId ?? '') ?? [], riders: [] });
  return past
    .filter((one) => one.state !== null && one.settledAt !== null && !one.hasLapsed && !isStill(one))
    .map((one) => decisionOn(one, one.occasion, 'lapse', 'its reason has gone', { noticeId: one.id }));
}

function pastAfter(past: readonly PastNotice[], made: readonly Decision[]): PastNotice[] {
  const byId = new Map(made.map((decision) => [decision.noticeId, decision.decision]));
  return past.map((notice) => {
    const decision = byId.get(notice.id);
    if (decision === 'withdraw') return { ...notice, status: 'withdrawn' as const };
    return decision === 'lapse' ? { ...notice, hasLapsed: true } : notice;
  });
}

/** *Default*: so a change of weights, an interval or an import never pours mails. */
export const REMINDERS_A_DAY = 20;

const ALONE = 'goes with the next reminder, never alone';
const REMINDER_FIRST = 'a reminder goes first';
const ONE_AT_A_TIME = 'another mail to them goes first';

/** So many a day go to riders of these together. */
const isCapped = (mail: MailKind): boolean => mail === 'reminder' || mail === 'invitation';

/** Decides wish by wish, in the table's order of pressure, and remembers which mails that fills. */
class Run {
  readonly #input: NoticeInput;
  readonly #today: Day;
  #history: History;
  readonly #slots = new Map<string, ReturnType<typeof slotFor>>();
  /** Riders with a reminder or an invitation, by day. */
  readonly #reminded = new Map<Day, Set<Recipient>>();
  /** Riders whose coming reminder says more than that a history is unknown. */
  readonly #carried = new Set<Recipient>();
  /** The mail that follows reminders and waits for its day: one at a time to a rider. */
  readonly #following = new Map<Recipient, MailKind>();

  constructor(input: NoticeInput, today: Day, past: readonly PastNotice[]) {
    this.#input = input;
    this.#today = today;
    this.#history = new History(past);
    for (const notice of past) {
      if (!keepsPlace(notice)) continue;
      if (isCapped(notice.mail)) this.#noteReminder(notice.to, notice.day);
      if (!isOpen(notice)) continue;
      if (notice.mail === 'reminder' && kindOf(notice).company === 'brings') this.#carried.add(notice.to);
    }
  }

  #noteReminder(to: Recipient, day: Day): void {
    this.#reminded.set(day, (this.#reminded.get(day) ?? new Set()).add(to));
  }

  #slot(to: Recipient, rule: SlotRule): ReturnType<typeof slotFor> {
    const key = `${to} ${rule.mail}`;
    const slot = this.#slots.get(key) ?? slotFor(this.#input, rule, this.#history.listTo(to));
    this.#slots.set(key, slot);
    return slot;
  }

  decide({ kind, wish }: KindWish): Decision {
    const about = this.#history.listAbout(wish);
    const { timeZone } = this.#input.workshop;
    const verdict: Verdict = kind.verdict(wish, { past: about, today: this.#today, zone: timeZone });
    if (verdict.told)
      return decisionOn(wish, verdict.occasion, 'already', verdict.reason, { noticeId: verdict.told.id });
    const held = (reason: string): Decision => decisionOn(wish, verdict.occasion, 'hold', reason);
    const isReminder = wish.slot.mail === 'reminder';
    const early = wish.hold ?? this.#companyHold(kind, wish);
    if (early !== null) return held(early);
    const place = this.#slot(wish.to, wish.slot);
    if ('hold' in place) return held(place.hold);
    if (isReminder && hasHadExtra(wish, verdict.occasion, about))
      return held('told twice already in this service period: call this rider');
    const most = isCapped(wish.slot.mail) ? this.#mostReached(wish, place.slot) : null;
    if (most !== null)
      return decisionOn(wish, verdict.occasion, 'hold', `${most} reminders go on ${place.slot.day} already`, {
        isBehind: true,
      });
    if (isCapped(wish.slot.mail)) this.#noteReminder(wish.to, place.slot.day);
    if (isReminder && kind.company === 'brings') this.#carried.add(wish.to);
    if (kind.company === 'yields') this.#following.set(wish.to, wish.slot.mail);
    const { slot } = place;
    return decisionOn(wish, verdict.occasion, 'queue', kind.why(wish), { slot, offer: wish.offer });
  }

  #companyHold({ company, slot }: NoticeKind, wish: Wish): string | null {
    const hasReminder = this.#carried.has(wish.to);
    // What goes in the workshop's list needs nobody and yields to nobody.
    if (wish.slot !== slot) return null;
    if (company === 'yields' && hasReminder) return REMINDER_FIRST;
    if (company === 'yields' && (this.#following.get(wish.to) ?? slot.mail) !== slot.mail)
      return ONE_AT_A_TIME;
    return company === 'needs' && !hasReminder ? ALONE : null;
  }

  /** Returns the most reminders of a day where so many riders have theirs, and this is not one of them. */
  #mostReached(wish: Wish, { day }: MailSlot): number | null {
    const most = this.#input.reminderMailsADay;
    const riders = this.#reminded.get(day);
    return most !== null && !riders?.has(wish.to) && (riders?.size ?? 0) >= most ? most : null;
  }

  /** Goes on with a past in which more was withdrawn. */
  goOnWith(past: readonly PastNotice[]): void {
    this.#history = new History(past);
    this.#following.clear();
    for (const one of past)
      if (one.status === 'queued' && isWaiting(one, 'yields')) this.#following.set(one.to, one.mail);
    this.#slots.clear();
  }

  hasCompany(to: Recipient): boolean {
    return this.#carried.has(to);
  }
}

const isWaiting = (notice: PastNotice, company: NoticeKind['company']): boolean =>
  isOpen(notice) && kindOf(notice).company === company && notice.mail === kindOf(notice).slot.mail;

/** What needs company and is left alone in a mail that was tried: nothing can join it any more. */
function aloneOnTheWay(past: readonly PastNotice[]): Decision[] {
  const carried = new Set(past.filter((one) => isWaiting(one, 'brings')).map((one) => one.to));
  return past
    .filter((one) => isWaiting(one, 'needs') && one.wasTried && !carried.has(one.to))
    .map((one) => withdraw(one, ALONE));
}

/** Waiting notices that no reminder joined, or that one pushed aside. */
function lateWithdrawals(past: readonly PastNotice[], run: Run): Decision[] {
  return past.flatMap((notice) => {
    const hasCompany = run.hasCompany(notice.to);
    if (isWaiting(notice, 'needs') && !hasCompany) return [withdraw(notice, ALONE)];
    return isWaiting(notice, 'yields') && hasCompany ? [withdraw(notice, REMINDER_FIRST)] : [];
  });
}

/**
 * Returns what to do about notices now: told from where things stand today alone, once per recipient, unit, service
 * kind, service period, state and occasion, whatever the clock does.
 * Shape: withdrawals and lapses first; they free places for what is queued after them.
 */
export function decideNotices(input: NoticeInput): Decision[] {
  const today = dayOf(input.now, input.workshop.timeZone);
  const wishes = wishesFor(input, today);
  const gone = [
    ...withdrawals(input, wishes, new History(input.past)),
    ...lapses(input.past, input.subjects, today),
  ];
  gone.push(...aloneOnTheWay(pastAfter(input.past, gone)));
  const past = pastAfter(input.past, gone);
  const run = new Run(input, today, past);
  const isFollowing = ({ kind }: KindWish): boolean => kind.company === 'needs' || kind.company === 'yields';
  const first = wishes.filter((one) => !isFollowing(one)).map((one) => run.decide(one));
  const alone = lateWithdrawals(past, run);
  run.goOnWith(pastAfter(past, alone));
  const second = wishes.filter(isFollowing).map((one) => run.decide(one));
  return [...gone, ...alone, ...first, ...second];
}
