import { expect, test } from 'vitest';
import type { NoticeInput, Subject } from '../../../src/core/notices/notice.js';
import { groupBy, reasonKey, wishesFor } from '../../../src/core/notices/noticeWishes.js';
import { day } from '../../../src/units.js';
import { at, ZONE } from '../ledger/ledgerBuilders.js';
import { riderOf, subjectOf } from './noticeWorld.js';

const wishesOf = (subjects: readonly Subject[], riders = [riderOf('r1')]) => {
  const input: NoticeInput = {
    now: at('2025-06-10T06:00:00Z'),
    workshop: { timeZone: ZONE, openDays: ['tue'], closedDays: [], digestHour: 7 },
    subjects,
    riders,
    past: [],
    reminderMailsADay: null,
  };
  return wishesFor(input, day('2025-06-10'));
};

test('a rider whom nobody knows is a rider to call', () => {
  const [, toRider] = wishesOf([subjectOf('due', { riderId: 'r9' })]);
  expect(toRider).toMatchObject({ to: 'r9', hold: 'no address: call this rider' });
});

test('an unsubscribed rider is not asked to confirm an address', () => {
  const rider = riderOf('r1', { address: 'unconfirmed', isUnsubscribed: true });
  expect(wishesOf([subjectOf('due')], [rider]).map((wish) => wish.mail)).toEqual(['digest', 'reminder']);
});

test('silence is a reason of the rider’s own', () => {
  const silent = riderOf('r1', { silence: { since: day('2025-05-03'), days: 38 } });
  expect(wishesOf([], [silent])).toEqual([
    expect.objectContaining({ to: 'r1', mail: 'silence', cause: '2025-05-03', unitId: null, hold: null }),
  ]);
});

test('a crash mark is one reason whatever the service period, hours are not', () => {
  const keyOf = (state: 'due' | 'stop-riding', periodId: string) =>
    reasonKey({ to: 'r1', unitId: 'u1', serviceKind: 'full', periodId, state, cause: 'm1' });
  expect(keyOf('stop-riding', 's1')).toBe(keyOf('stop-riding', 's2'));
  expect(keyOf('due', 's1')).not.toBe(keyOf('due', 's2'));
});

test('groups keep the order in which things stand', () => {
  const groups = groupBy(['b1', 'a1', 'b2'], (text) => text[0]!);
  expect([...groups]).toEqual([
    ['b', ['b1', 'b2']],
    ['a', ['a1']],
  ]);
});
