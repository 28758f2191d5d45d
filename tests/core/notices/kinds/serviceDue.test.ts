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

test('whoever does it at home hears no more of its coming up for a while, and of due and over all the same', () => {
  const wishOf = (state: 'coming-up' | 'due' | 'over-interval', on: string) => {
    const home = { ...subjectOf(state), homeUntil: day('2025-06-20') };
    const situation = { today: day(on), units: [{ all: [home], rider }], riders: [rider] };
    const [forWorkshop, forRider] = serviceDue.wishes(situation, []);
    const now = { today: day(on), unit: [home], riders: [] };
    const mayGo = serviceDue.mayGo({ ...NOTICE, serviceKind: home.standing.serviceKind }, rider, now);
    expect(mayGo).toBe(forRider!.hold === null);
    expect(forWorkshop!.hold).toBeNull();
    return forRider!.hold;
  };
  expect(wishOf('coming-up', '2025-06-19')).toBe(
    'the rider does it at home: nothing more of its coming up before 2025-06-20',
  );
  expect(wishOf('coming-up', '2025-06-20')).toBeNull();
  expect([wishOf('due', '2025-06-10'), wishOf('over-interval', '2025-06-10')]).toEqual([null, null]);
});

test('of jobs that do not include one another each is told, also where a larger one is offered for all', () => {
  const interval = (terrainHours: number) =>
    ({ terrainHours, months: null, movingHoursCeiling: null, rule: 'kind' }) as const;
  const all = [
    subjectOf('due', { serviceKind: 'lower-leg', interval: interval(50), hoursLeft: -1 }),
    subjectOf('over-interval', { serviceKind: 'air-spring', interval: interval(100), hoursLeft: -30 }),
    subjectOf('over-interval', { serviceKind: 'damper', interval: interval(150), hoursLeft: -38 }),
    subjectOf('in-time', { serviceKind: 'full', interval: interval(200), hoursLeft: 12 }),
  ];
  const wishes = serviceDue.wishes({ today, units: [{ all, rider }], riders: [rider] }, []);
  const toRider = wishes.filter(({ to }) => to === 'r1');
  expect(
    Object.fromEntries(toRider.map(({ serviceKind, hold, offer }) => [serviceKind, [hold, offer]])),
  ).toEqual({
    'air-spring': [null, 'full'],
    damper: [null, 'full'],
    'lower-leg': [expect.stringMatching(/^included in (air-spring|damper), which is told instead$/), 'full'],
  });
});

test('of two jobs that restart each other one tells of both', () => {
  const own = (serviceKind: string, restarts: readonly string[]) =>
    subjectOf('due', { serviceKind, restarts, hoursLeft: -1 });
  const all = [own('wash', ['wash', 'grease']), own('grease', ['grease', 'wash'])];
  const wishes = serviceDue.wishes({ today, units: [{ all, rider }], riders: [rider] }, []);
  expect(wishes.filter(({ to, hold }) => to === 'r1' && hold === null)).toHaveLength(1);
});
