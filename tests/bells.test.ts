import { expect, it, onTestFinished, vi } from 'vitest';
import { openBells } from '../src/bells.js';

const MINUTE = 60_000;

/** A clock that the test moves; timers follow it. */
function at(time: string) {
  vi.useFakeTimers({ now: Date.parse(time) });
  const bells = openBells();
  onTestFinished(() => {
    bells.stop();
    vi.useRealTimers();
  });
  const rung: string[] = [];
  const bell = (at: string) => ({ at, ring: () => void rung.push(new Date().toISOString().slice(0, 16)) });
  return { bells, rung, bell };
}

it('rings at an hour on the clocks of a zone, once each', async () => {
  const { bells, rung, bell } = at('2026-06-10T00:00:00Z');
  bells.hang([bell('0 7 * * *')], 'Europe/Lisbon');
  await vi.advanceTimersByTimeAsync(2 * 24 * 60 * MINUTE);
  expect(rung).toEqual(['2026-06-10T06:00', '2026-06-11T06:00']);
});

it('hung again with another hour it rings at that one only', async () => {
  const { bells, rung, bell } = at('2026-06-10T00:00:00Z');
  bells.hang([bell('0 7 * * *')], 'UTC');
  bells.hang([bell('0 7 * * *')], 'UTC');
  bells.hang([bell('0 9 * * *')], 'UTC');
  await vi.advanceTimersByTimeAsync(24 * 60 * MINUTE);
  expect(rung).toEqual(['2026-06-10T09:00']);
});

it('stopped, it rings no more', async () => {
  const { bells, rung, bell } = at('2026-06-10T00:00:00Z');
  bells.hang([bell('* * * * *')], 'UTC');
  bells.stop();
  await vi.advanceTimersByTimeAsync(10 * MINUTE);
  expect(rung).toEqual([]);
});
