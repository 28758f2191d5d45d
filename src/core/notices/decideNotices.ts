import type { Day } from '../../units.js';
import { dayOf } from '../days/calendar.js';
import type { Occasion } from '../tokens.js';
import { slotFor } from './mailSlots.js';
import {
  type Decision,
  keepsPlace,
  type MailKind,
  type MailSlot,
  type NoticeInput,
  type PastNotice,
  type Recipient,
  type Subject,
} from './notice.js';
import { hasHadAll, isRepeatAnswered, stillHolds, type Verdict, verdictOn } from './noticeHistory.js';
import { groupBy, reasonKey, type Wish, wishesFor } from './noticeWishes.js';

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
  rest: Partial<Pick<Decision, 'noticeId' | 'slot' | 'offer'>> = {},
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

/** Waiting notices whose reason has gone, or that must not go now. */
function withdrawals(past: readonly PastNotice[], wishes: readonly Wish[], history: History): Decision[] {
  const byReason = new Map(wishes.map((wish) => [reasonKey(wish), wish]));
  return past.flatMap((notice) => {
    if (notice.status !== 'queued') return [];
    const wish = byReason.get(reasonKey(notice));
    if (!wish) return [withdraw(notice, 'its reason has gone')];
    if (wish.hold !== null) return [withdraw(notice, wish.hold)];
    const isAnswered = isRepeatAnswered(notice, wish, history.listAbout(notice));
    return isAnswered ? [withdraw(notice, 'the rider answered')] : [];
  });
}

/** Sent notices whose reason has gone. */
function lapses(past: readonly PastNotice[], subjects: readonly Subject[]): Decision[] {
  const units = groupBy(subjects, ({ standing }) => standing.unitId);
  return past
    .filter((one) => one.state !== null && one.settledAt !== null && !one.hasLapsed)
    .filter((one) => !stillHolds(one, units.get(one.unitId ?? '') ?? []))
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

/** Stop riding at once; then what presses most, so that a bound on mails holds back the least pressing. */
const ORDER = ['stop-riding', 'over-interval', 'due', 'coming-up', 'history-unknown'];
const placeOf = (wish: Wish): number => (wish.state === null ? ORDER.length : ORDER.indexOf(wish.state));

const ALONE = 'goes with the next reminder, never alone';
const REMINDER_FIRST = 'a reminder goes first';

/** Decides wish by wish, in order of pressure, and remembers which mails that fills. */
class Run {
  readonly #input: NoticeInput;
  readonly #today: Day;
  #history: History;
  readonly #slots = new Map<string, ReturnType<typeof slotFor>>();
  /** Riders with a reminder, by day. */
  readonly #reminded = new Map<Day, Set<Recipient>>();
  /** Riders whose coming reminder says more than that a history is unknown. */
  readonly #carried = new Set<Recipient>();

  constructor(input: NoticeInput, today: Day, past: readonly PastNotice[]) {
    this.#input = input;
    this.#today = today;
    this.#history = new History(past);
    for (const notice of past) {
      if (notice.mail !== 'reminder' || !keepsPlace(notice)) continue;
      this.#noteReminder(notice.to, notice.day);
      if (notice.status === 'queued' && notice.state !== 'history-unknown') this.#carried.add(notice.to);
    }
  }

  #noteReminder(to: Recipient, day: Day): void {
    this.#reminded.set(day, (this.#reminded.get(day) ?? new Set()).add(to));
  }

  #slot(to: Recipient, mail: MailKind): ReturnType<typeof slotFor> {
    const key = `${to} ${mail}`;
    const slot = this.#slots.get(key) ?? slotFor(this.#input, mail, this.#history.listTo(to));
    this.#slots.set(key, slot);
    return slot;
  }

  decide(wish: Wish): Decision {
    const about = this.#history.listAbout(wish);
    const verdict: Verdict = verdictOn(wish, about, this.#today, this.#input.workshop.timeZone);
    if (verdict.told)
      return decisionOn(wish, verdict.occasion, 'already', verdict.reason, { noticeId: verdict.told.id });
    const held = (reason: string): Decision => decisionOn(wish, verdict.occasion, 'hold', reason);
    const early = wish.hold ?? this.#companyHold(wish);
    if (early !== null) return held(early);
    const place = this.#slot(wish.to, wish.mail);
    if ('hold' in place) return held(place.hold);
    const late = wish.mail === 'reminder' ? this.#boundHold(wish, about, place.slot) : null;
    if (late !== null) return held(late);
    if (wish.mail === 'reminder') {
      this.#noteReminder(wish.to, place.slot.day);
      if (wish.state !== 'history-unknown') this.#carried.add(wish.to);
    }
    const { slot } = place;
    return decisionOn(wish, verdict.occasion, 'queue', reasonOf(wish), { slot, offer: wish.offer });
  }

  #companyHold(wish: Wish): string | null {
    const hasReminder = this.#carried.has(wish.to);
    if (wish.mail === 'silence' && hasReminder) return REMINDER_FIRST;
    if (wish.mail === 'reminder' && wish.state === 'history-unknown' && !hasReminder) return ALONE;
    return null;
  }

  #boundHold(wish: Wish, about: readonly PastNotice[], { day }: MailSlot): string | null {
    if (hasHadAll(wish, about, day)) return 'three reminders went in this service period: call this rider';
    const most = this.#input.reminderMailsADay;
    const riders = this.#reminded.get(day);
    const isBeyond = most !== null && !riders?.has(wish.to) && (riders?.size ?? 0) >= most;
    return isBeyond ? `${most} reminders go on ${day} already` : null;
  }

  /** Goes on with a past in which more was withdrawn. */
  goOnWith(past: readonly PastNotice[]): void {
    this.#history = new History(past);
    this.#slots.clear();
  }

  hasCompany(to: Recipient): boolean {
    return this.#carried.has(to);
  }
}

const reasonOf = (wish: Wish): string => {
  if (wish.mail === 'silence') return `no ride since ${wish.cause}`;
  if (wish.mail === 'confirm-address') return 'the address is not confirmed yet';
  if (wish.mail === 'digest') return 'mail to a rider was refused for good: call them';
  return `${wish.serviceKind}: ${wish.state}`;
};

const isUnknownReminder = (notice: PastNotice): boolean =>
  notice.status === 'queued' && notice.mail === 'reminder' && notice.state === 'history-unknown';

/** Unknown histories left alone in a mail that was tried: nothing can join it any more. */
function aloneOnTheWay(past: readonly PastNotice[]): Decision[] {
  const carried = new Set(
    past
      .filter((one) => one.mail === 'reminder' && one.status === 'queued' && !isUnknownReminder(one))
      .map((one) => one.to),
  );
  return past
    .filter((one) => isUnknownReminder(one) && one.wasTried && !carried.has(one.to))
    .map((one) => withdraw(one, ALONE));
}

/** Waiting notices that no reminder joined, or that one pushed aside. */
function lateWithdrawals(past: readonly PastNotice[], run: Run): Decision[] {
  return past.flatMap((notice) => {
    const hasCompany = run.hasCompany(notice.to);
    if (isUnknownReminder(notice) && !hasCompany) return [withdraw(notice, ALONE)];
    if (notice.status === 'queued' && notice.mail === 'silence' && hasCompany)
      return [withdraw(notice, REMINDER_FIRST)];
    return [];
  });
}

/**
 * Returns what to do about notices now: told from where things stand today alone, once per recipient, unit, service
 * kind, service period, state and occasion, whatever the clock does.
 * Shape: withdrawals and lapses first; they free places for what is queued after them.
 */
export function decideNotices(input: NoticeInput): Decision[] {
  const today = dayOf(input.now, input.workshop.timeZone);
  const wishes = wishesFor(input, today).sort((a, b) => placeOf(a) - placeOf(b));
  const gone = [
    ...withdrawals(input.past, wishes, new History(input.past)),
    ...lapses(input.past, input.subjects),
  ];
  gone.push(...aloneOnTheWay(pastAfter(input.past, gone)));
  const past = pastAfter(input.past, gone);
  const run = new Run(input, today, past);
  const [carrying, riding] = [
    wishes.filter((wish) => wish.state !== null && wish.state !== 'history-unknown'),
    wishes.filter((wish) => wish.state === null || wish.state === 'history-unknown'),
  ];
  const first = carrying.map((wish) => run.decide(wish));
  const alone = lateWithdrawals(past, run);
  run.goOnWith(pastAfter(past, alone));
  const second = riding.map((wish) => run.decide(wish));
  return [...gone, ...alone, ...first, ...second];
}
