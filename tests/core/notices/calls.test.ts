import { describe, expect, test } from 'vitest';
import { callsFor, type Told } from '../../../src/core/notices/calls.js';
import type { NoticeRider } from '../../../src/core/notices/notice/notice.js';
import type { CallReason } from '../../../src/core/tokens.js';
import { day } from '../../../src/units.js';
import { NoticeWorld, riderOf, subjectOf } from './noticeWorld.js';

const TODAY = day('2025-06-16');
const calls = (world: NoticeWorld, told: readonly Told[] = []) =>
  callsFor(world, told, TODAY).map((call) => [call.serviceKind, call.state, call.reason]);
const withRider = (rest: Partial<NoticeRider>, ...subjects: ReturnType<typeof subjectOf>[]): NoticeWorld => {
  const world = new NoticeWorld(...subjects);
  world.riders = [riderOf('r1', rest)];
  return world;
};

describe('riders to call', () => {
  test.each<[Partial<NoticeRider>, CallReason]>([
    [{ address: 'none' }, 'no-address'],
    [{ address: 'unconfirmed' }, 'unconfirmed'],
    [{ address: 'refused' }, 'refused'],
    [{ isUnsubscribed: true }, 'unsubscribed'],
  ])('whom no reminder reaches: %j', (rest, reason) => {
    for (const state of ['coming-up', 'due', 'over-interval'] as const)
      expect(calls(withRider(rest, subjectOf(state)))).toEqual([['lower-leg', state, reason]]);
    for (const state of ['in-time', 'on-the-bench', 'history-unknown'] as const)
      expect(calls(withRider(rest, subjectOf(state)))).toEqual([]);
  });

  test('not who is told by mail, nor about what a larger job includes or they asked quiet for', () => {
    expect(calls(withRider({}, subjectOf('due')))).toEqual([]);
    const both = [subjectOf('due'), subjectOf('due', { serviceKind: 'full' })];
    expect(calls(withRider({ address: 'none' }, ...both))).toEqual([['full', 'due', 'no-address']]);
    const quiet = { at: new Date('2025-06-10').getTime() as never, quietUntil: day('2025-07-01') };
    expect(calls(withRider({ address: 'none' }, subjectOf('due', { answer: quiet })))).toEqual([]);
  });

  test('a crash mark first, and for whoever stopped reminders too only where no address takes it', () => {
    const stopped = subjectOf('stop-riding', { unitId: 'u2', markId: 'm1' });
    const world = withRider({ address: 'unconfirmed' }, subjectOf('over-interval'), stopped);
    expect(calls(world).map(([, state]) => state)).toEqual(['stop-riding', 'over-interval']);
  });

  test('until somebody says that they were told; what is worse than that is told anew', () => {
    const told: Told = {
      unitId: 'u1',
      serviceKind: 'lower-leg',
      periodId: 'start',
      state: 'due',
      markId: null,
    };
    const world = (state: 'coming-up' | 'due' | 'over-interval') =>
      withRider({ address: 'none' }, subjectOf(state));
    expect(calls(world('coming-up'), [told])).toEqual([]);
    expect(calls(world('due'), [told])).toEqual([]);
    expect(calls(world('over-interval'), [told])).toHaveLength(1);
    expect(calls(world('due'), [{ ...told, periodId: 's1' }])).toHaveLength(1);
  });

  test('a mark that somebody told of is not another mark', () => {
    const told: Told = {
      unitId: 'u1',
      serviceKind: 'full',
      periodId: 'start',
      state: 'stop-riding',
      markId: 'm1',
    };
    const marked = (markId: string) => withRider({ address: 'none' }, subjectOf('stop-riding', { markId }));
    expect(calls(marked('m1'), [told])).toEqual([]);
    expect(calls(marked('m2'), [told])).toHaveLength(1);
  });

  test('who had a repeat, when a reason returns', () => {
    const morning = Date.parse('2025-06-16T06:00:00Z');
    const on = (days: number) => (morning + days * 86_400_000) as never;
    const world = new NoticeWorld(subjectOf('coming-up'));
    world.day(on(-40));
    world.day(on(-18));
    expect(calls(world)).toEqual([]);
    world.subjects = [subjectOf('in-time')];
    world.day(on(-10));
    world.subjects = [subjectOf('coming-up')];
    world.day(on(-5));
    expect(calls(world)).toEqual([['lower-leg', 'coming-up', 'told-twice']]);
  });
});
