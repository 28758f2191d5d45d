import { expect, it, onTestFinished, vi } from 'vitest';
import { sparingly, startLoop } from '../src/loop.js';
import type { Log } from '../src/ports/log.js';

const quiet: Log = { info: () => undefined, error: () => undefined };
const counting = (errors: unknown[] = []) => ({ ...quiet, error: (what: unknown) => void errors.push(what) });

function started(step: () => Promise<void>, log = quiet, pauseMs = 1) {
  const loop = startLoop('test', step, log, { pauseMs });
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
  expect(JSON.stringify(errors)).toContain('the disk is full');
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
