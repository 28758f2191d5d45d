import { describe, expect, test } from 'vitest';
import { kindOf } from '../../../../src/core/notices/kinds.js';
import { NO_CAUSE, type PastNotice } from '../../../../src/core/notices/notice/notice.js';
import { hasHadExtra, isRepeatAnswered } from '../../../../src/core/notices/notice/verdict.js';
import { REMINDER, type Wish } from '../../../../src/core/notices/notice/wish.js';
import { day } from '../../../../src/units.js';
import { at, ZONE } from '../../ledger/ledgerBuilders.js';
import { subjectOf } from '../noticeWorld.js';

const sentAt = at('2025-06-01T06:00:00Z');
const noticeOf = (rest: Partial<PastNotice> = {}): PastNotice => ({
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
  sendAt: sentAt,
  status: 'handed-over',
  wasTried: true,
  settledAt: sentAt,
  hasLapsed: false,
  ...rest,
});
const wishOf = (rest: Partial<Wish> = {}): Wish => {
  const { to, unitId, serviceKind, periodId, state, cause } = noticeOf();
  return {
    to,
    unitId,
    serviceKind,
    periodId,
    state,
    cause,
    slot: REMINDER,
    subject: subjectOf('coming-up'),
    offer: null,
    hold: null,
    ...rest,
  };
};
const verdictOn = (wish: Wish, past: readonly PastNotice[], on: string) =>
  kindOf({ ...wish, occasion: 'first' }).verdict(wish, { past, today: day(on), zone: ZONE });
const occasionOn = (history: readonly PastNotice[], on = '2025-06-22', wish = wishOf()) => {
  const { occasion, told } = verdictOn(wish, history, on);
  return told ? `already ${occasion}` : occasion;
};

describe('occasion', () => {
  test('first, until it is told', () => {
    expect(occasionOn([])).toBe('first');
    expect(
      occasionOn([noticeOf({ to: 'r2' }), noticeOf({ periodId: 's1' }), noticeOf({ state: 'due' })]),
    ).toBe('first');
    expect(occasionOn([noticeOf()], '2025-06-21')).toBe('already first');
  });

  test('repeat after 21 days by the calendar; a clock that ran back repeats nothing', () => {
    expect(occasionOn([noticeOf()])).toBe('repeat');
    expect(occasionOn([noticeOf()], '2025-05-01')).toBe('already first');
    expect(occasionOn([noticeOf(), noticeOf({ occasion: 'repeat' })])).not.toBe('repeat');
    expect(occasionOn([noticeOf({ status: 'refused' })])).toBe('already first');
  });

  test('again after a lapse, once; of an unknown history never', () => {
    expect(occasionOn([noticeOf({ hasLapsed: true })])).toBe('again');
    expect(
      occasionOn([noticeOf({ hasLapsed: true }), noticeOf({ occasion: 'again', hasLapsed: true })]),
    ).toMatch(/^already/);
    const unknown = { state: 'history-unknown' } as const;
    expect(occasionOn([noticeOf({ ...unknown, hasLapsed: true })], '2025-06-22', wishOf(unknown))).toMatch(
      /^already/,
    );
  });

  test('says where the one told before is', () => {
    const reasonOf = (rest: Partial<PastNotice>) => {
      const verdict = verdictOn(wishOf(), [noticeOf(rest)], '2025-06-02');
      return verdict.told && verdict.reason;
    };
    expect(reasonOf({ status: 'queued', settledAt: null })).toBe('waits for 2025-06-01');
    expect(reasonOf({})).toBe('handed over on 2025-06-01');
    expect(reasonOf({ status: 'refused' })).toBe('refused for good on 2025-06-01');
  });
});

test('a repeat is answered by what the rider said after the first', () => {
  const repeat = noticeOf({ id: 'n2', occasion: 'repeat', status: 'queued', settledAt: null });
  const answered = (time: string) =>
    wishOf({ subject: subjectOf('coming-up', { answer: { at: at(time), quietUntil: null } }) });
  expect(isRepeatAnswered(repeat, answered('2025-06-01T06:00:01Z'), [noticeOf(), repeat])).toBe(true);
  expect(isRepeatAnswered(repeat, answered('2025-05-31T06:00:00Z'), [noticeOf(), repeat])).toBe(false);
  expect(isRepeatAnswered(repeat, wishOf(), [noticeOf(), repeat])).toBe(false);
});

test('beside the first word of each state a period allows one repeat or one again', () => {
  const firsts = [noticeOf(), noticeOf({ state: 'due' }), noticeOf({ state: 'over-interval' })];
  const hasHad = (more: readonly PastNotice[], wish = wishOf(), occasion: 'first' | 'again' = 'again') =>
    hasHadExtra(wish, occasion, [...firsts, ...more]);
  expect(hasHad([])).toBe(false);
  for (const occasion of ['repeat', 'again'] as const) {
    expect(hasHad([noticeOf({ occasion })])).toBe(true);
    expect(hasHad([noticeOf({ occasion })], wishOf(), 'first')).toBe(false);
    expect(hasHad([noticeOf({ occasion })], wishOf({ periodId: 's1' }))).toBe(false);
    expect(hasHad([noticeOf({ occasion, mail: 'digest' })])).toBe(false);
    expect(hasHad([noticeOf({ occasion, status: 'withdrawn', wasTried: false })])).toBe(false);
  }
});
