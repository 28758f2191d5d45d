/** Today, Due, the bench, the weeks and the list of the day count units, and count the same ones. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { TOLD_STATES } from '../../../src/core/states.js';
import { STATES, type State } from '../../../src/core/tokens.js';
import { getDuePage } from '../../../src/flow/due/duePage.js';
import { listDue } from '../../../src/flow/due/listDue.js';
import { getTodayPage } from '../../../src/flow/due/today.js';
import { markUnit } from '../../../src/flow/facts/enterFacts.js';
import { arrive } from '../../../src/flow/facts/jobs.js';
import { digest } from '../../../src/flow/mail/kinds/digest.js';
import { getBenchPage } from '../../../src/flow/plan/benchPage.js';
import { getBenchPlan } from '../../../src/flow/plan/benchPlan.js';
import { getWorkshop } from '../../../src/flow/settings.js';
import { runs } from '../../fixtures/runs.js';
import { DOCUMENT, NOW, TODAY, webWorld } from '../../web/webWorld.js';

const made = fc.record({
  unitKind: fc.constantFrom('fork', 'air-shock', 'coil-shock'),
  hours: fc.constantFrom(null, 0, 10, 44, 48, 60, 90, 210),
  served: fc.constantFrom(null, 'lower-leg', 'bushings', 'full'),
  isOnBike: fc.boolean(),
  lies: fc.boolean(),
  isMarked: fc.boolean(),
});

const KINDS = {
  fork: ['lower-leg', 'full'],
  'air-shock': ['bushings', 'full'],
  'coil-shock': ['bushings', 'full'],
};

test('every page and the list of the day count the same units', { timeout: 120_000 }, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(made, { minLength: 1, maxLength: 12 }), async (units) => {
      const tagOf = (i: number): string => `F-1${String(i).padStart(3, '0')}`;
      const bikes = units.map((_, i) => ({ id: `x${i}`, rider: 'r1', name: `Bike ${i}`, type: 'trail' }));
      const history = (hours: number | null) =>
        hours === null ? 'unknown' : { terrainHours: hours, movingHours: hours, asOf: '2026-06-01' };
      const document = {
        ...DOCUMENT,
        bikes: [...DOCUMENT.bikes, ...bikes],
        units: units.map(({ unitKind, hours }, i) => ({ tag: tagOf(i), unitKind, history: history(hours) })),
        fittings: units.flatMap(({ isOnBike }, i) =>
          isOnBike ? [{ unit: tagOf(i), bike: `x${i}`, from: '2026-01-01', to: null }] : [],
        ),
        services: units.flatMap(({ served, unitKind }, i) =>
          served !== null && KINDS[unitKind].includes(served)
            ? [{ unit: tagOf(i), serviceKind: served, on: '2026-06-05' }]
            : [],
        ),
      };
      const { store } = await webWorld({ document });
      await store.write(async (tx) => {
        for (const [i, { lies, isMarked }] of units.entries()) {
          const unitId = (await tx.handles.find('unit', tagOf(i)))!;
          if (lies) await arrive(tx, unitId, {}, { by: 'owner', at: NOW });
          if (isMarked) await markUnit(tx, unitId, true, 'a crack', { by: 'owner', at: NOW });
        }
      });
      await store.read(async (tx) => {
        const { counts } = await getDuePage(tx, { find: '', page: 1 }, NOW);
        const today = await getTodayPage(tx, NOW);
        expect(today.due.counts).toEqual(counts);
        const first = new Map<string, State>();
        for (const { unitId, state } of await listDue(tx, NOW))
          if (!first.has(unitId)) first.set(unitId, state);
        const count = (of: (state: State) => boolean): number => [...first.values()].filter(of).length;
        expect([...counts.values()].reduce((sum, n) => sum + n, 0)).toBe(units.length);
        for (const state of STATES) expect(counts.get(state) ?? 0, state).toBe(count((one) => one === state));
        const bench = await getBenchPage(tx, NOW);
        expect(bench.jobs).toHaveLength(units.filter(({ lies }) => lies).length);
        expect(today.work.there).toBe(bench.jobs.length);
        const plan = await getBenchPlan(tx, NOW);
        expect(plan.leftOut.stopRiding).toBe(counts.get('stop-riding') ?? 0);
        expect(plan.leftOut.historyUnknown).toBe(counts.get('history-unknown') ?? 0);
        const atWork = plan.jobs.filter(({ unit }) => bench.jobs.some(({ one }) => one.unit.tag === unit));
        expect(atWork.length + plan.leftOut.onTheBench).toBe(bench.jobs.length);
        const work = {
          tx,
          notices: [],
          workshop: await getWorkshop(tx),
          today: TODAY,
          links: null,
          now: NOW,
        };
        const told = await digest.toWorkshop!(work as never);
        const rows = told?.mail === 'digest' ? told.content.rows : [];
        // A unit with several jobs has a row for each there; the first of them says how it is counted.
        const tags = new Map<string, State>();
        for (const { tag, state } of rows) if (!tags.has(tag)) tags.set(tag, state);
        for (const state of TOLD_STATES)
          expect(
            [...tags.values()].filter((one) => one === state),
            state,
          ).toHaveLength(counts.get(state) ?? 0);
      });
    }),
    { numRuns: runs(15, 4) },
  );
});
