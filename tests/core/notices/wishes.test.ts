import { expect, test } from 'vitest';
import type { Subject } from '../../../src/core/notices/notice/notice.js';
import { wishesFor } from '../../../src/core/notices/wishes.js';
import { day } from '../../../src/units.js';
import { riderOf, subjectOf } from './noticeWorld.js';

const wishesOf = (subjects: readonly Subject[], riders = [riderOf('r1')], hasBegun = true) =>
  wishesFor({ subjects, riders, hasBegun }, day('2025-06-10')).map(({ wish }) => wish);

test('a rider whom nobody knows is a rider to call', () => {
  const [, toRider] = wishesOf([subjectOf('due', { riderId: 'r9' })]);
  expect(toRider).toMatchObject({ to: 'r9', hold: 'no address: call this rider' });
});

test('an unsubscribed rider is not asked to confirm an address', () => {
  const rider = riderOf('r1', { address: 'unconfirmed', isUnsubscribed: true });
  expect(wishesOf([subjectOf('due')], [rider]).map((wish) => wish.slot.mail)).toEqual(['digest', 'reminder']);
});

test('silence is a reason of the rider’s own', () => {
  const silent = riderOf('r1', { silence: { since: day('2025-05-03'), days: 38 } });
  expect(wishesOf([], [silent])).toEqual([
    expect.objectContaining({ to: 'r1', cause: '2025-05-03', unitId: null, hold: null }),
  ]);
});

test('wishes of the kinds stand in the order in which they press', () => {
  const states = ['history-unknown', 'coming-up', 'due', 'over-interval', 'stop-riding'] as const;
  const subjects = states.map((state, i) => subjectOf(state, { unitId: `u${i}`, riderId: null }));
  expect(wishesOf(subjects).map(({ state }) => state)).toEqual([...states].reverse());
});
