import { expect, test } from 'vitest';
import { historyUnknown } from '../../../../src/core/notices/kinds/historyUnknown.js';
import { day } from '../../../../src/units.js';
import { riderOf, subjectOf } from '../noticeWorld.js';

test('tells of the largest job of a unit, which opens it furthest', () => {
  const all = ['lower-leg', 'full', 'damper'].map((serviceKind) =>
    subjectOf('history-unknown', { serviceKind }),
  );
  const rider = riderOf('r1');
  const situation = { today: day('2025-06-10'), units: [{ all, rider }], riders: [rider] };
  const wishes = historyUnknown.wishes(situation, []);
  expect(
    wishes.filter(({ hold }) => hold === null).map(({ to, serviceKind }) => `${to} ${serviceKind}`),
  ).toEqual(['workshop full', 'r1 full']);
  expect(wishes.find(({ hold }) => hold !== null)!.hold).toBe('told with full');
});
