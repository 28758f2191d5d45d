import { expect, test } from 'vitest';
import { confirmAddress } from '../../../../src/core/notices/kinds/confirmAddress.js';
import { unitWish } from '../../../../src/core/notices/notice/wish.js';
import { day } from '../../../../src/units.js';
import { NOTICE, riderOf, subjectOf } from '../noticeWorld.js';

const today = day('2025-06-10');
const unsure = riderOf('r1', { address: 'unconfirmed' });
const wishesBeside = (state: 'due' | 'history-unknown', rider = unsure) =>
  confirmAddress.wishes({ today, units: [], riders: [rider] }, [unitWish('r1', subjectOf(state))]);

test('asks once there is something to tell, and not for an unknown history alone', () => {
  expect(wishesBeside('due')).toEqual([expect.objectContaining({ to: 'r1', cause: 'r1 first address' })]);
  expect(wishesBeside('history-unknown')).toEqual([]);
  expect(wishesBeside('due', riderOf('r1'))).toEqual([]);
  expect(wishesBeside('due', { ...unsure, isUnsubscribed: true })).toEqual([]);
});

test('holds for one address, and goes to none that is confirmed', () => {
  const [wish] = wishesBeside('due');
  const asked = { ...NOTICE, state: null, occasion: 'confirm-address', cause: wish!.cause } as const;
  const now = (addressId: string) => ({ today, unit: [], riders: [riderOf('r1', { addressId })] });
  expect(confirmAddress.holds(asked, now('r1 first address'))).toBe(true);
  expect(confirmAddress.holds(asked, now('another'))).toBe(false);
  expect(confirmAddress.mayGo(asked, unsure, now(''))).toBe(true);
  expect(confirmAddress.mayGo(asked, riderOf('r1'), now(''))).toBe(false);
});
