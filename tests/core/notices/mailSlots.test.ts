import { describe, expect, test } from 'vitest';
import { stopRiding } from '../../../src/core/notices/kinds/stopRiding.js';
import { slotFor } from '../../../src/core/notices/mailSlots.js';
import {
  NO_CAUSE,
  type NoticeInput,
  type PastNotice,
  type SlotRule,
} from '../../../src/core/notices/notice/notice.js';
import { DIGEST, REMINDER } from '../../../src/core/notices/notice/wish.js';
import { day, isoTime } from '../../../src/units.js';
import { at, ZONE } from '../ledger/ledgerBuilders.js';

const inputAt = (time: string, rest: Partial<NoticeInput> = {}): NoticeInput => ({
  now: at(time),
  workshop: { timeZone: ZONE, openDays: ['tue', 'wed', 'thu', 'fri', 'sat'], closedDays: [], digestHour: 7 },
  subjects: [],
  riders: [],
  past: [],
  reminderMailsADay: null,
  hasBegun: true,
  hasRelay: true,
  ...rest,
});
const past = (on: string, rest: Partial<PastNotice> = {}): PastNotice => ({
  id: `n ${on}`,
  to: 'r1',
  unitId: 'u1',
  serviceKind: 'full',
  periodId: 'start',
  state: 'due',
  occasion: 'first',
  cause: NO_CAUSE,
  mail: 'reminder',
  day: day(on),
  sendAt: at(`${on}T06:00:00Z`),
  status: 'handed-over',
  wasTried: true,
  settledAt: at(`${on}T06:00:10Z`),
  hasLapsed: false,
  ...rest,
});
const slotAt = (
  time: string,
  rule: SlotRule,
  notices: readonly PastNotice[] = [],
  rest: Partial<NoticeInput> = {},
) => {
  const found = slotFor(inputAt(time, rest), rule, notices);
  return 'hold' in found ? found.hold : isoTime(found.slot.sendAt);
};
const waiting = { status: 'queued', wasTried: false, settledAt: null } as const;

describe('reminders', () => {
  test('at the workshop’s hour of the day, and at once when that has passed', () => {
    expect(slotAt('2025-06-10T05:59:59Z', REMINDER)).toBe('2025-06-10T06:00:00Z');
    expect(slotAt('2025-06-10T06:00:00Z', REMINDER)).toBe('2025-06-10T06:00:00Z');
    expect(slotAt('2025-06-10T06:00:01Z', REMINDER)).toBe('2025-06-10T06:00:01Z');
  });
  test('on any day of the week, digests on open days', () => {
    expect(slotAt('2025-06-15T12:00:00Z', REMINDER)).toBe('2025-06-15T12:00:00Z');
    expect(slotAt('2025-06-15T12:00:00Z', DIGEST)).toBe('2025-06-17T06:00:00Z');
  });
  test('a day that had a mail has no second one, by the day it was for and the day it left', () => {
    expect(slotAt('2025-06-10T04:00:00Z', REMINDER, [past('2025-06-10')])).toBe('2025-06-11T06:00:00Z');
    const late = past('2025-06-08', { settledAt: at('2025-06-10T03:00:00Z') });
    expect(slotAt('2025-06-10T04:00:00Z', REMINDER, [late])).toBe('2025-06-11T06:00:00Z');
    expect(slotAt('2025-06-10T04:00:00Z', REMINDER, [past('2025-06-10', { mail: 'silence' })])).toBe(
      '2025-06-11T06:00:00Z',
    );
    expect(slotAt('2025-06-10T04:00:00Z', REMINDER, [past('2025-06-10', { mail: 'stop-riding' })])).toBe(
      '2025-06-10T06:00:00Z',
    );
  });
  test('joins the mail that waits, and nothing joins one on its way', () => {
    expect(slotAt('2025-06-09T04:00:00Z', REMINDER, [past('2025-06-12', waiting)])).toBe(
      '2025-06-12T06:00:00Z',
    );
    const onItsWay = past('2025-06-09', { ...waiting, wasTried: true });
    expect(slotAt('2025-06-09T07:00:00Z', REMINDER, [onItsWay])).toBe('a mail to them is still on its way');
  });
  test('what was tried may have arrived, and takes its day even when it is withdrawn', () => {
    const tried = past('2025-06-10', { status: 'withdrawn', wasTried: true, settledAt: null });
    expect(slotAt('2025-06-10T04:00:00Z', REMINDER, [tried])).toBe('2025-06-11T06:00:00Z');
  });
  test('what was withdrawn unsent takes no day', () => {
    const freed = past('2025-06-10', { ...waiting, status: 'withdrawn' });
    expect(slotAt('2025-06-10T04:00:00Z', REMINDER, [freed])).toBe('2025-06-10T06:00:00Z');
  });
});

test('stop riding waits for nothing', () => {
  const onItsWay = past('2025-06-10', { mail: 'stop-riding', status: 'queued', settledAt: null });
  expect(slotAt('2025-06-15T23:59:00Z', stopRiding.slot, [onItsWay, past('2025-06-15')])).toBe(
    '2025-06-15T23:59:00Z',
  );
});
