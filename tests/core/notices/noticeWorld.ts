import type { Standing } from '../../../src/core/ledger/due.js';
import { defaultRestarts } from '../../../src/core/ledger/serviceKinds.js';
import { decideNotices } from '../../../src/core/notices/decideNotices.js';
import {
  type Decision,
  type Invitation,
  keepsPlace,
  NO_CAUSE,
  type NoticeInput,
  type NoticeRider,
  noticeKey,
  type PastNotice,
  type Subject,
} from '../../../src/core/notices/notice/notice.js';
import type { State } from '../../../src/core/tokens.js';
import { day, type Instant } from '../../../src/units.js';
import { at, likelyOf, standingWith, ZONE } from '../ledger/ledgerBuilders.js';

export const riderOf = (id: string, rest: Partial<NoticeRider> = {}): NoticeRider => ({
  id,
  address: 'confirmed',
  addressId: `${id} first address`,
  isUnsubscribed: false,
  silence: null,
  ...rest,
});

export const subjectOf = (
  state: State,
  rest: Partial<Omit<Subject, 'standing'>> & Partial<Standing> = {},
): Subject => {
  const { riderId = 'r1', markId = null, answer = null, isTold = false, restarts, ...standing } = rest;
  const whole = standingWith({ state, likely: likelyOf('2025-12-01'), ...standing });
  return {
    standing: whole,
    restarts: restarts ?? defaultRestarts({ unitKind: 'fork' }, whole.serviceKind, []) ?? [whole.serviceKind],
    riderId,
    markId,
    isTold,
    answer,
  };
};

const EVERY_DAY = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

/** A workshop whose notices are decided, stored and sent as the flow does it, without a database. */
export class NoticeWorld {
  past: PastNotice[] = [];
  subjects: readonly Subject[] = [];
  riders: readonly NoticeRider[] = [riderOf('r1')];
  workshop: NoticeInput['workshop'] = {
    timeZone: ZONE,
    openDays: EVERY_DAY,
    closedDays: [],
    digestHour: 7,
  };
  invitations: readonly Invitation[] = [];
  reminderMailsADay: number | null = null;
  hasBegun = true;
  hasRelay = true;
  #count = 0;

  constructor(...subjects: readonly Subject[]) {
    this.subjects = subjects;
  }

  preview(time: string | Instant): Decision[] {
    const { past, subjects, riders, invitations, workshop, reminderMailsADay } = this;
    const now = typeof time === 'string' ? at(time) : time;
    const { hasBegun, hasRelay } = this;
    return decideNotices({
      ...{ now, workshop, subjects, riders, invitations, past, reminderMailsADay, hasBegun, hasRelay },
    });
  }

  decide(time: string | Instant): Decision[] {
    const decisions = this.preview(time);
    for (const decision of decisions) this.#carryOut(decision);
    return decisions;
  }

  #carryOut(decision: Decision): void {
    if (decision.decision === 'queue') {
      this.past.push({
        ...decision,
        ...decision.slot!,
        id: `n${++this.#count}`,
        status: 'queued',
        wasTried: false,
        settledAt: null,
        hasLapsed: false,
      });
    }
    if (decision.decision === 'withdraw') this.#change(decision.noticeId, { status: 'withdrawn' });
    if (decision.decision === 'lapse') this.#change(decision.noticeId, { hasLapsed: true });
  }

  #change(id: string | null, change: Partial<PastNotice>): void {
    this.past = this.past.map((one) => (one.id === id ? { ...one, ...change } : one));
  }

  /** Hands over what waits. */
  deliver(time: string | Instant): PastNotice[] {
    const now = typeof time === 'string' ? at(time) : time;
    const out = this.past.filter((one) => one.status === 'queued' && one.sendAt <= now);
    for (const one of out) this.#change(one.id, { status: 'handed-over', wasTried: true, settledAt: now });
    return out;
  }

  /** Tries what waits, and the relay does not answer. */
  tryInVain(time: string): void {
    for (const one of this.past)
      if (one.status === 'queued' && one.sendAt <= at(time)) this.#change(one.id, { wasTried: true });
  }

  /** Decides and hands over at one moment. */
  day(time: string | Instant): PastNotice[] {
    this.decide(time);
    return this.deliver(time);
  }

  /** Keys that stand more than once. */
  doubles(): string[] {
    const keys = this.past.filter(keepsPlace).map(noticeKey);
    return keys.filter((key, i) => keys.indexOf(key) !== i);
  }
}

/** What was decided, short enough to read. */
export const briefly = (decisions: readonly Decision[]): string[] =>
  decisions.map((one) =>
    [one.decision, one.to, one.serviceKind ?? '-', one.state ?? '-', one.occasion].join(' '),
  );

/** What was handed over, short enough to read. */
export const sentBriefly = (sent: readonly PastNotice[]): string[] =>
  sent.map((one) => [one.to, one.serviceKind ?? '-', one.state ?? '-', one.occasion].join(' '));

/** A reminder that was handed over. */
export const NOTICE: PastNotice = {
  id: 'n1',
  to: 'r1',
  unitId: 'u1',
  serviceKind: 'lower-leg',
  periodId: 'start',
  state: 'coming-up',
  occasion: 'first',
  cause: NO_CAUSE,
  mail: 'reminder',
  day: day('2025-06-01'),
  sendAt: at('2025-06-01T06:00:00Z'),
  status: 'handed-over',
  wasTried: true,
  settledAt: at('2025-06-01T06:00:00Z'),
  hasLapsed: false,
};
