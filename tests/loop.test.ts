import { expect, it, onTestFinished, vi } from 'vitest';
import { ServiceError } from '../src/errors.js';
import { sparingly, startLoop } from '../src/loop.js';
import type { Log } from '../src/ports/log.js';
import type { Turn } from '../src/ports/loops.js';

const quiet: Log = { info: () => undefined, error: () => undefined };
const counting = (errors: unknown[] = []) => ({ ...quiet, error: (what: unknown) => void errors.push(what) });

function started(step: (turn: Turn) => Promise<unknown>, log = quiet, pauseMs = 1) {
  const times = { pauseMs, turnMs: 50, longestMs: 1000 };
  const loop = startLoop('test', async (turn) => (await step(turn)) === 'more', log, times);
  onTestFinished(() => loop.stop());
  return loop;
}

it('repeats its step, never two at a time', async () => {
  let under = 0;
  let most = 0;
  let steps = 0;
  started(async () => {
    under += 1;
    most = Math.max(most, under);
    await new Promise(setImmediate);
    under -= 1;
    steps += 1;
  });
  await vi.waitUntil(() => steps >= 5);
  expect(most).toBe(1);
});

it('tells of failed work and tries again', async () => {
  const errors: unknown[] = [];
  let steps = 0;
  const loop = started(async () => {
    steps += 1;
    if (steps <= 3) throw new Error('the disk is full');
  }, counting(errors));
  await vi.waitUntil(() => steps >= 3 && loop.pulse().runningS === null);
  await vi.waitUntil(() => steps >= 5);
  expect(errors).toHaveLength(3);
  expect(errors).toMatchObject([1, 2, 3].map(() => ({ loop: 'test', error: new Error('the disk is full') })));
  expect(loop.pulse().failedInARow).toBe(0);
});

it('says how it is doing, also while a step hangs', async () => {
  let release = (): void => undefined;
  const loop = started(
    () =>
      new Promise<void>((resolve) => {
        release = resolve;
      }),
    quiet,
    60_000,
  );
  expect(loop.pulse()).toMatchObject({ name: 'test', sinceEndedS: null, failedInARow: 0 });
  expect(loop.pulse().runningS).toBeGreaterThanOrEqual(0);
  release();
  await vi.waitUntil(() => loop.pulse().runningS === null);
  expect(loop.pulse().sinceEndedS).toBeGreaterThanOrEqual(0);
});

it('stops only when its step has ended, and does not begin another', async () => {
  let steps = 0;
  let isDone = false;
  const loop = started(async () => {
    steps += 1;
    await new Promise((resolve) => setTimeout(resolve, 30));
    isDone = true;
  });
  await loop.stop();
  expect(isDone).toBe(true);
  const after = steps;
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(steps).toBe(after);
});

it('goes on at once where a step left more to do, and when it is rung', async () => {
  let steps = 0;
  const loop = started(
    async () => {
      steps += 1;
      return steps < 4 ? 'more' : 'done';
    },
    quiet,
    60_000,
  );
  await vi.waitUntil(() => steps === 4 && loop.pulse().runningS === null);
  loop.ring();
  await vi.waitUntil(() => steps === 5);
});

it('rung in the middle of a step begins one more after it, and no two at a time', async () => {
  const releases: (() => void)[] = [];
  const loop = started(() => new Promise<void>((resolve) => releases.push(resolve)), quiet, 60_000);
  for (let rings = 0; rings < 3; rings += 1) loop.ring();
  expect(releases).toHaveLength(1);
  releases[0]!();
  await vi.waitUntil(() => releases.length === 2);
  releases[1]!();
  await vi.waitUntil(() => loop.pulse().runningS === null);
  expect(releases).toHaveLength(2);
});

it('tells a step when its time is up, and when the program is asked to end', async () => {
  let seen: Turn | null = null;
  const loop = started(
    (turn) =>
      new Promise((resolve) => {
        seen = turn;
        turn.signal.addEventListener('abort', () => resolve('broken off'));
      }),
  );
  const turn = await vi.waitUntil(() => seen);
  turn.doing('waiting');
  expect([turn.isOver(), loop.pulse().doing]).toEqual([false, 'waiting']);
  await vi.waitUntil(() => turn.isOver());
  const began = performance.now();
  await loop.stop();
  expect(turn.signal.aborted).toBe(true);
  expect(performance.now() - began).toBeLessThan(4000);
});

it('says why its last step failed, in words that name nobody', async () => {
  let fault: unknown = new ServiceError('disk-failed', 'The disk is full.');
  const loop = started(() => (fault === null ? Promise.resolve() : Promise.reject(fault)), counting());
  await vi.waitUntil(() => loop.pulse().why === 'The disk is full.');
  fault = new TypeError('r1@example.org is undefined');
  await vi.waitUntil(() => loop.pulse().why === 'a fault of this program, which is in its log');
  fault = null;
  await vi.waitUntil(() => loop.pulse().why === null);
});

it.each([-3_600_000, 18_000_000])('turns on when the clock of the machine jumps by %i ms', async (jump) => {
  let steps = 0;
  started(async () => {
    steps += 1;
  });
  await vi.waitUntil(() => steps >= 2);
  const real = Date.now;
  onTestFinished(() => {
    Date.now = real;
  });
  Date.now = () => real() + jump;
  const before = steps;
  const until = performance.now() + 10_000;
  while (steps < before + 3 && performance.now() < until) await new Promise(setImmediate);
  expect(steps).toBeGreaterThanOrEqual(before + 3);
});

it('leaves a work out while it would take more than a twentieth of the time, unless there is news', async () => {
  let now = 1000;
  vi.spyOn(performance, 'now').mockImplementation(() => now);
  onTestFinished(() => void vi.restoreAllMocks());
  const done: number[] = [];
  const sparing = sparingly();
  const tryAt = (at: number, isNews = false): Promise<void> => {
    now = at;
    return sparing(async () => {
      done.push(at);
      now += 100;
    }, isNews);
  };
  await tryAt(1000);
  // From 1100 on it rests for nineteen times its length.
  await tryAt(2999);
  await tryAt(3000);
  await tryAt(3100, true);
  await tryAt(5099);
  await tryAt(5100);
  expect(done).toEqual([1000, 3000, 3100, 5100]);
});

it('a work that failed is not taken for done', async () => {
  const sparing = sparingly();
  const failing = (): Promise<never> => Promise.reject(new Error('the disk is gone'));
  await expect(sparing(failing, false)).rejects.toThrow('the disk is gone');
  const done = vi.fn(async () => undefined);
  await sparing(done, false);
  expect(done).toHaveBeenCalledOnce();
});

it('keeps between its steps how much is left, until nothing is', async () => {
  let left = 3;
  const seen: (number | null | undefined)[] = [];
  const loop = started(async (turn) => {
    seen.push(loop.pulse().left);
    turn.doing('reading', left);
    left -= 1;
    return left >= 0 ? 'more' : 'nothing';
  });
  await vi.waitUntil(() => seen.length >= 5);
  expect(seen.slice(0, 5)).toEqual([null, 3, 2, 1, null]);
});
