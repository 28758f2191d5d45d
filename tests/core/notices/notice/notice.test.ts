import { expect, test } from 'vitest';
import {
  type Cause,
  keepsPlace,
  NO_CAUSE,
  type NoticeKey,
  noticeKey,
} from '../../../../src/core/notices/notice/notice.js';

const key: NoticeKey = {
  to: 'r1',
  unitId: 'u1',
  serviceKind: 'full',
  periodId: 's1',
  state: 'due',
  occasion: 'first',
  cause: NO_CAUSE,
};

test('every part of the key tells two notices apart, and missing is not the same as empty or as text', () => {
  const others: NoticeKey[] = [
    { ...key, to: 'workshop' },
    { ...key, unitId: 'u2' },
    { ...key, serviceKind: 'damper' },
    { ...key, periodId: 'start' },
    { ...key, state: 'over-interval' },
    { ...key, occasion: 'again' },
    { ...key, cause: 'm1' as Cause },
    { ...key, unitId: null },
    { ...key, unitId: 'null' },
    { ...key, unitId: 'u1","full' },
  ];
  expect(new Set([key, ...others].map(noticeKey)).size).toBe(others.length + 1);
});

test('the key does not depend on what else a notice carries', () => {
  const stored = { id: 'n1', decidedAt: 5, ...key };
  expect(noticeKey(stored)).toBe(noticeKey(key));
});

test('only what was withdrawn before anybody tried it frees its place', () => {
  expect(keepsPlace({ status: 'withdrawn', wasTried: false })).toBe(false);
  expect(keepsPlace({ status: 'withdrawn', wasTried: true })).toBe(true);
  expect(keepsPlace({ status: 'queued', wasTried: false })).toBe(true);
  expect(keepsPlace({ status: 'refused', wasTried: true })).toBe(true);
});
