import { expect, it } from 'vitest';
import { keepBackups } from '../../../src/flow/carry/keepBackups.js';
import type { Backups } from '../../../src/ports/backups.js';
import type { Day } from '../../../src/units.js';
import { inWords } from '../../fixtures/inWords.js';
import { FlowWorld } from '../flowWorld.js';

/** Lisbon is an hour ahead of UTC in summer. */
async function bench(...had: string[]) {
  const world = await FlowWorld.open('2025-06-10T12:00:00Z');
  let days = [...had] as Day[];
  let fails = false;
  const backups: Backups = {
    list: async () => [...days].sort(),
    make: async (day) => {
      if (fails) throw new Error('the disk is full');
      days.push(day);
    },
    remove: async (day) => {
      days = days.filter((one) => one !== day);
    },
  };
  return {
    at: async (now: string, kept = 3): Promise<readonly string[]> => {
      world.now = now;
      await keepBackups({ ...world.deps, backups }, { kept, hour: 3 });
      return backups.list();
    },
    breaks: () => {
      fails = true;
    },
  };
}

it('makes one a day, at its hour on the workshop’s clocks or as soon after as it runs', async () => {
  const { at } = await bench();
  expect(await at('2025-06-10T01:59:59Z')).toEqual([]);
  expect(await at('2025-06-10T02:00:00Z')).toEqual(['2025-06-10']);
  expect(await at('2025-06-10T23:30:00Z')).toEqual(['2025-06-10']);
  expect(await at('2025-06-12T20:00:00Z')).toEqual(['2025-06-10', '2025-06-12']);
});

it('keeps so many, the youngest, and none where none are asked for', async () => {
  const { at } = await bench('2025-06-01', '2025-06-02', '2025-06-03', '2025-06-04');
  expect(await at('2025-06-10T12:00:00Z')).toEqual(['2025-06-03', '2025-06-04', '2025-06-10']);
  expect(await at('2025-06-11T12:00:00Z', 1)).toEqual(['2025-06-11']);
  expect(await at('2025-06-12T12:00:00Z', 0)).toEqual(['2025-06-11']);
});

it('lets go of none where today’s could not be made', async () => {
  const had = ['2025-06-01', '2025-06-02', '2025-06-03'];
  const { at, breaks } = await bench(...had);
  breaks();
  await expect(inWords(at('2025-06-10T12:00:00Z', 1))).rejects.toThrow('the disk is full');
  expect(await at('2025-06-09T00:00:00Z', 1)).toEqual(had);
});

it('never lets go of today’s for one that a clock which ran ahead has left', async () => {
  const { at } = await bench('2025-07-01', '2025-07-02');
  expect(await at('2025-06-10T12:00:00Z', 2)).toEqual(['2025-06-10', '2025-07-01', '2025-07-02']);
});

it('makes one on each day of a year, also when clocks change', async () => {
  const { at } = await bench();
  expect(await at('2025-03-29T04:00:00Z')).toEqual(['2025-03-29']);
  expect(await at('2025-03-30T02:00:00Z')).toEqual(['2025-03-29', '2025-03-30']);
  expect(await at('2025-10-26T03:00:00Z')).toContain('2025-10-26');
});
