import { describe, expect, test } from 'vitest';
import { kindOf } from '../../../../src/core/notices/kinds.js';
import { NO_CAUSE, type PastNotice } from '../../../../src/core/notices/notice/notice.js';
import { hasHadAll, isRepeatAnswered } from '../../../../src/core/notices/notice/verdict.js';
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

test('three days of reminders in a period are all; digests, other days of the same mail and freed ones do not count', () => {
  const on = (text: string, rest: Partial<PastNotice> = {}) => noticeOf({ day: day(text), ...rest });
  const three = [
    on('2025-06-01'),
    on('2025-06-02', { state: 'due' }),
    on('2025-06-03', { occasion: 'again' }),
  ];
  expect(hasHadAll(wishOf(), three, day('2025-06-09'))).toBe(true);
  expect(hasHadAll(wishOf(), three, day('2025-06-03'))).toBe(false);
  expect(hasHadAll(wishOf({ periodId: 's1' }), three, day('2025-06-09'))).toBe(false);
  const freed = on('2025-06-03', { status: 'withdrawn', wasTried: false });
  expect(hasHadAll(wishOf(), [...three.slice(0, 2), freed], day('2025-06-09'))).toBe(false);
  expect(
    hasHadAll(wishOf(), [...three.slice(0, 2), on('2025-06-03', { mail: 'digest' })], day('2025-06-09')),
  ).toBe(false);
});
