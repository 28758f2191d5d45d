import { expect, it } from 'vitest';
import type { Fact } from '../../../src/core/ledger/facts.js';
import { NEXT_STEPS, NOTHING_SAID, stayOf } from '../../../src/core/ledger/stay.js';
import { JOB_STEPS, type JobStep } from '../../../src/core/tokens.js';
import { day, instant } from '../../../src/units.js';

const ZONE = 'Europe/Lisbon';
const of = <K extends 'job' | 'bench'>(kind: K, body: unknown, hour: number): Fact<K> =>
  ({ id: `${kind}${hour}`, kind, body, since: instant(hour * 3_600_000) }) as Fact<K>;
const job = (step: JobStep, hour: number): Fact<'job'> =>
  of('job', { unitId: 'u', step, arrivedOn: day('1970-01-01'), ...NOTHING_SAID }, hour);
const bench = (isIn: boolean, hour: number): Fact<'bench'> => of('bench', { unitId: 'u', in: isIn }, hour);

it('a stay lasts from arrived to collected, through every step between', () => {
  for (const step of JOB_STEPS)
    expect(stayOf([job(step, 1)], [], ZONE)?.job.step).toBe(step === 'collected' ? undefined : step);
  expect(stayOf([job('done', 1), job('collected', 2)], [], ZONE)).toBeNull();
  expect(stayOf([job('collected', 1), job('arrived', 2)], [], ZONE)?.factId).toBe('job2');
  expect(stayOf([], [], ZONE)).toBeNull();
});

it('what a program from before jobs wrote counts until a job is written', () => {
  expect(stayOf([], [bench(true, 1)], ZONE)).toMatchObject({ factId: null, job: { step: 'arrived' } });
  expect(stayOf([], [bench(true, 1), bench(false, 2)], ZONE)).toBeNull();
  expect(stayOf([job('collected', 2)], [bench(true, 1)], ZONE)).toBeNull();
  expect(stayOf([job('collected', 1)], [bench(true, 2)], ZONE)?.factId).toBeNull();
  // Its day is the workshop's: half past eleven in the evening in Lisbon's summer is another day than UTC's.
  const late = of('bench', { unitId: 'u', in: true }, Date.parse('2025-06-18T23:30:00Z') / 3_600_000);
  expect(stayOf([], [late], ZONE)?.job.arrivedOn).toBe('2025-06-19');
});

it('no step leads to itself, and the last one to none', () => {
  for (const step of JOB_STEPS) expect(NEXT_STEPS[step]).not.toContain(step);
  expect(NEXT_STEPS.collected).toEqual([]);
});
