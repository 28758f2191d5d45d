/** Days are offered by what is expected week by week, as if all that is expected had been looked at. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { type BenchWork, MINUTES_A_DAY, offeredDays } from '../../../src/core/plan/slots.js';
import { listOfferedDays } from '../../../src/flow/plan/leadDays.js';
import { type Day, day } from '../../../src/units.js';
import { runs } from '../../fixtures/runs.js';
import { DOCUMENT, FlowWorld } from '../flowWorld.js';

const TODAY = day('2026-06-02');
const OPEN_DAYS = ['mon', 'wed', 'fri'] as const;
const COUNT = 75;
const MINUTES: Readonly<Record<string, number>> = {
  'lower-leg': 60,
  'air-spring': 90,
  damper: 120,
  full: 150,
};

/** Forks whose service kinds are likely on days of our own making. */
async function openWith(likely: readonly (readonly number[])[], own: number): Promise<[FlowWorld, Day]> {
  const tags = likely.map((_, i) => `G-${i}`);
  const world = await FlowWorld.open(`${TODAY}T09:00:00Z`, {
    ...DOCUMENT,
    workshop: { ...DOCUMENT.workshop, openDays: OPEN_DAYS },
    units: [...DOCUMENT.units, ...tags.map((tag) => ({ tag, unitKind: 'fork', history: 'new' }))],
  });
  const ownDay = addDays(TODAY, own);
  await world.deps.store.write(async (tx) => {
    const ids = await tx.handles.names('unit');
    for (const [i, tag] of ['F-1', ...tags].entries()) {
      const rows = await tx.standings.listOf(ids.get(tag)!);
      await tx.standings.put(
        ids.get(tag)!,
        rows.map((row, k) => {
          const p50 = i === 0 ? ownDay : addDays(TODAY, likely[i - 1]![k % likely[i - 1]!.length]!);
          return { ...row, state: i === 0 ? 'coming-up' : 'in-time', likely: { p10: p50, p50, p90: p50 } };
        }),
      );
    }
  });
  return [world, ownDay];
}

test('the same as from everything that is expected, however many units there are', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.array(fc.integer({ min: -5, max: 50 }), { minLength: 1, maxLength: 4 }), {
        minLength: COUNT,
        maxLength: COUNT,
      }),
      fc.integer({ min: 3, max: 55 }),
      async (days, own) => {
        const [world, likely] = await openWith(days, own);
        const units = [{ unitId: await world.id('unit', 'F-1'), jobs: ['lower-leg'] }];
        const wish = { units, count: 3 };
        const offered = await world.deps.store.read((tx) => listOfferedDays(tx, wish, world.entry.at));
        const standings = await world.deps.store.read((tx) => tx.standings.list());
        const first = new Map<string, BenchWork>();
        for (const { unitId, serviceKind, likely: on } of standings) {
          const known = first.get(unitId);
          if (unitId === units[0]!.unitId || on.p50 === null || (known && known.day <= on.p50)) continue;
          first.set(unitId, { day: on.p50, minutes: MINUTES[serviceKind]! });
        }
        const bench = {
          openDays: OPEN_DAYS,
          closedDays: [],
          placesAWeek: null,
          minutesADay: MINUTES_A_DAY,
        };
        const load = { taken: [], expected: [...first.values()] };
        const all = { today: TODAY, jobMinutes: 60, likely, count: 3 };
        expect(offered).toEqual(offeredDays(bench, load, all));
      },
    ),
    { numRuns: runs(6, 2) },
  );
});
