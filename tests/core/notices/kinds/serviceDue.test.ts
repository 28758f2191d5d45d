import { expect, test } from 'vitest';
import { serviceDue } from '../../../../src/core/notices/kinds/serviceDue.js';
import { day } from '../../../../src/units.js';
import { at } from '../../ledger/ledgerBuilders.js';
import { NOTICE, riderOf, subjectOf } from '../noticeWorld.js';

const today = day('2025-06-10');
const rider = riderOf('r1');

test('the most pressing first', () => {
  const units = (['coming-up', 'over-interval', 'due'] as const).map((state, i) => ({
    all: [subjectOf(state, { unitId: `u${i}` })],
    rider,
  }));
  const wishes = serviceDue.wishes({ today, units, riders: [rider] }, []);
  expect(wishes.filter(({ to }) => to === 'r1').map(({ state }) => state)).toEqual([
    'over-interval',
    'due',
    'coming-up',
  ]);
});

test('a rider who answered hears nothing before the day that they named', () => {
  const quiet = subjectOf('due', {
    answer: { at: at('2025-06-09T08:00:00Z'), quietUntil: day('2025-06-20') },
  });
  const mayGo = (on: string) =>
    serviceDue.mayGo(NOTICE, rider, { today: day(on), unit: [quiet], riders: [] });
  expect([mayGo('2025-06-19'), mayGo('2025-06-20')]).toEqual([false, true]);
});

test('somebody told the rider: no mail goes about it, and a waiting one may not go', () => {
  const told = subjectOf('due', { isTold: true });
  const situation = { today, units: [{ all: [told], rider }], riders: [rider] };
  const [forWorkshop, forRider] = serviceDue.wishes(situation, []);
  expect([forWorkshop!.hold, forRider!.hold]).toEqual([null, 'somebody told the rider']);
  expect(serviceDue.mayGo(NOTICE, rider, { today, unit: [told], riders: [] })).toBe(false);
});
