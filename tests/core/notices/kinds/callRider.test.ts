import { expect, test } from 'vitest';
import { callRider } from '../../../../src/core/notices/kinds/callRider.js';
import { WORKSHOP } from '../../../../src/core/notices/notice/notice.js';
import { day } from '../../../../src/units.js';
import { NOTICE, riderOf } from '../noticeWorld.js';

const today = day('2025-06-10');
const refused = riderOf('r1', { address: 'refused' });
const wishesOf = (rider: typeof refused) => callRider.wishes({ today, units: [], riders: [rider] }, []);

test('tells the workshop of an address that takes no mail, while it takes none', () => {
  const [wish] = wishesOf(refused);
  expect(wish).toMatchObject({ to: WORKSHOP, cause: 'r1 first address', hold: null });
  expect(wishesOf(riderOf('r1'))).toEqual([]);
  expect(wishesOf({ ...refused, isUnsubscribed: true })).toEqual([]);
  const told = { ...NOTICE, to: WORKSHOP, state: null, occasion: 'call-rider', cause: wish!.cause } as const;
  expect(callRider.holds(told, { today, unit: [], riders: [refused] })).toBe(true);
  expect(callRider.holds(told, { today, unit: [], riders: [riderOf('r1')] })).toBe(false);
});
