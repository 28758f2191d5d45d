/** Setting one interval of a unit, at whatever hour, leaves where its other jobs stand as they were. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import type { IntervalFact } from '../../../src/core/ledger/facts.js';
import { listDueOf } from '../../../src/flow/due/listDue.js';
import { refreshAllDue } from '../../../src/flow/due/refreshDue.js';
import { setInterval } from '../../../src/flow/facts/enterFacts.js';
import { type Day, day } from '../../../src/units.js';
import { runs } from '../../fixtures/runs.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

const TODAY = day('2026-06-10');
const at = (on: Day, time: string): string => `${on}T${time}:00Z`;
const KINDS = ['lower-leg', 'air-spring', 'damper', 'full'] as const;

/** Some years of riding by hand, the last rides by file, and intervals near what was ridden. */
const seasons = fc.record({
  rides: fc.array(
    fc.record({ ago: fc.integer({ min: 2, max: 1_130 }), minutes: fc.integer({ min: 20, max: 240 }) }),
    {
      minLength: 10,
      maxLength: 60,
    },
  ),
  files: fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 1, maxLength: 8 }),
  served: fc.integer({ min: 5, max: 300 }),
  intervals: fc.array(fc.integer({ min: 4, max: 60 }), { minLength: 4, maxLength: 4 }),
  set: fc.constantFrom(...KINDS),
  to: fc.integer({ min: 5, max: 90 }),
  daysOn: fc.integer({ min: 0, max: 12 }),
});

/** Hours expected since the last files once stood beside the rides that had come meanwhile. */
const WAITED = {
  rides: [
    ...[143, 21, 235, 20, 20].map((minutes) => ({ ago: 2, minutes })),
    ...[
      [594, 21],
      [410, 191],
      [1_099, 20],
      [1_012, 76],
      [6, 20],
    ].map(([ago, minutes]) => ({
      ago: ago!,
      minutes: minutes!,
    })),
  ],
  ...{ files: [0, 5], served: 5, intervals: [4, 15, 4, 4], set: 'lower-leg', to: 5, daysOn: 0 },
} as const;

it('a fork’s other jobs stand as they stood', { timeout: 240_000 }, async () => {
  await fc.assert(
    fc.asyncProperty(seasons, async ({ rides, files, served, intervals, set, to, daysOn }) => {
      const world = await FlowWorld.open(at(addDays(TODAY, -25), '07:00'), {
        ...DOCUMENT,
        hours: rides.map(({ ago, minutes }, i) => ({
          ...{ bike: 'b1', on: addDays(TODAY, -ago - 25), minutes, ground: 'typical', note: `ride ${i}` },
        })),
        services: [{ unit: 'F-1', serviceKind: 'full', on: addDays(TODAY, -served - 25) }],
        intervals: KINDS.map((serviceKind, i) => ({
          ...{ unitKind: 'fork', serviceKind, terrainHours: intervals[i], months: null },
        })),
      });
      const { store } = world.deps;
      const comingUp = () =>
        store.read(async (tx) =>
          (await listDueOf(tx, unitId, world.deps.clock.now()))
            .filter(({ state }) => state === 'coming-up')
            .map(({ serviceKind }) => serviceKind),
        );
      const unitId = await world.id('unit', 'F-1');
      const handed = [...new Set(files)].sort((a, b) => b - a);
      for (const [i, ago] of handed.entries()) {
        const on = addDays(TODAY, -ago);
        world.now = at(on, '06:00');
        await refreshAllDue(world.deps);
        world.now = at(on, '18:00');
        // All rides since the last time come at once.
        const days = Math.min(9, (handed[i - 1] ?? ago + 1) - ago);
        for (let back = 0; back < days; back += 2) {
          const rode = addDays(on, -back);
          await world.take(rideFile(at(rode, '09:00'), 90), { bike: 'b1', name: `${rode}.fit` });
        }
        const soon = await comingUp();
        await refreshAllDue(world.deps);
        // What came up by the hours alone did so by what is foreseen too.
        expect(await comingUp()).toEqual(expect.arrayContaining(soon));
      }
      const others = async () => {
        await refreshAllDue(world.deps);
        const rows = await store.read((tx) => listDueOf(tx, unitId, world.deps.clock.now()));
        return rows
          .filter(({ serviceKind }) => serviceKind !== set)
          .map(({ serviceKind, state, likely, hoursLeft }) => ({ serviceKind, state, likely, hoursLeft }));
      };
      const on = addDays(TODAY, daysOn);
      world.now = at(on, '05:00');
      const before = await others();
      world.now = at(on, '21:00');
      const rule: IntervalFact = {
        ...{ unitKind: 'fork', serviceKind: set, terrainHours: to, months: null, movingHoursCeiling: null },
        scope: { fleetId: null, model: null, unitId },
      };
      await store.write(async (tx) => {
        await setInterval(tx, rule, 'owner', world.deps.clock.now());
      });
      expect(await others()).toEqual(before);
    }),
    { numRuns: runs(10, 4), examples: [[WAITED]] },
  );
});
