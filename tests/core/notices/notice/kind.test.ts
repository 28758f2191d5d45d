import { describe, expect, test } from 'vitest';
import { kindOf } from '../../../../src/core/notices/kinds.js';
import { type PastNotice, type Subject, textCause } from '../../../../src/core/notices/notice/notice.js';
import { day } from '../../../../src/units.js';
import { NOTICE, subjectOf } from '../noticeWorld.js';

describe('what still holds', () => {
  const holds = (told: Partial<PastNotice>, ...unit: Subject[]) => {
    const notice = { ...NOTICE, ...told };
    return kindOf(notice).holds(notice, { today: day('2025-06-10'), unit, riders: [] });
  };
  test('the same or worse, in the same period, of the same rider', () => {
    expect(holds({}, subjectOf('coming-up'))).toBe(true);
    expect(holds({}, subjectOf('over-interval'))).toBe(true);
    expect(holds({ state: 'due' }, subjectOf('coming-up'))).toBe(false);
    expect(holds({}, subjectOf('in-time'))).toBe(false);
    expect(holds({}, subjectOf('on-the-bench'))).toBe(false);
    expect(holds({}, subjectOf('due', { periodId: 's1' }))).toBe(false);
    expect(holds({}, subjectOf('due', { riderId: 'r2' }))).toBe(false);
    expect(holds({ to: 'workshop' }, subjectOf('due', { riderId: 'r2' }))).toBe(true);
    expect(holds({})).toBe(false);
  });
  test('a mark by itself, whatever became of the job and its period', () => {
    const told = { state: 'stop-riding', cause: textCause().write('m1'), serviceKind: 'full' } as const;
    expect(holds(told, subjectOf('stop-riding', { markId: 'm1', periodId: 's7' }))).toBe(true);
    expect(holds(told, subjectOf('stop-riding', { markId: 'm2', serviceKind: 'full' }))).toBe(false);
    expect(holds(told, subjectOf('due', { serviceKind: 'full' }))).toBe(false);
  });
  test('an unknown history that became known is over', () => {
    const told = { state: 'history-unknown' } as const;
    expect(holds(told, subjectOf('history-unknown'))).toBe(true);
    expect(holds(told, subjectOf('stop-riding'))).toBe(true);
    expect(holds(told, subjectOf('due'))).toBe(false);
    expect(holds({}, subjectOf('history-unknown'))).toBe(false);
  });
});
