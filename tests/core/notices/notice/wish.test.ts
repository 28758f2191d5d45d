import { expect, test } from 'vitest';
import { textCause } from '../../../../src/core/notices/notice/notice.js';
import { addressHold, reasonKey, reminderHold } from '../../../../src/core/notices/notice/wish.js';
import { riderOf } from '../noticeWorld.js';

test('a crash mark is one reason whatever the service period, hours are not', () => {
  const cause = textCause().write('m1');
  const keyOf = (state: 'due' | 'stop-riding', periodId: string) =>
    reasonKey({ to: 'r1', unitId: 'u1', serviceKind: 'full', periodId, state, cause });
  expect(keyOf('stop-riding', 's1')).toBe(keyOf('stop-riding', 's2'));
  expect(keyOf('due', 's1')).not.toBe(keyOf('due', 's2'));
});

test('who stopped reminders has an address all the same', () => {
  const stopped = riderOf('r1', { isUnsubscribed: true });
  expect(addressHold(stopped)).toBeNull();
  expect(reminderHold(stopped)).toContain('call them');
  expect(reminderHold(riderOf('r1'))).toBeNull();
  expect(reminderHold(riderOf('r1', { address: 'unconfirmed' }))).toContain('not confirmed');
});
