/** A kind that was built in after a ledger began has no interval there until the workshop takes one from a preview. */
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { serviceKindsOf } from '../../../src/core/ledger/serviceKinds.js';
import { listUnitsUnder, previewIntervals } from '../../../src/flow/due/previewInterval.js';
import { refreshAllDue } from '../../../src/flow/due/refreshDue.js';
import { setInterval } from '../../../src/flow/facts/enterFacts.js';
import { openStore } from '../../../src/store/open.js';
import { instant } from '../../../src/units.js';
import { KEPT_NOW, unpackKeptStore } from '../../fixtures/keptStore.js';

const AT = instant(Date.parse(KEPT_NOW));

/** A changed interval asks anew whether a unit is near. */
const AHEAD = ['in-time', 'coming-up'];

test('in the kept store the preview says which units would get it, and saving comes to the same and to nothing else', {
  timeout: 180_000,
}, async () => {
  const store = await openStore(join(unpackKeptStore('first').dataFolder, 'stanchion.db'), AT);
  onTestFinished(() => store.close());
  const deps = { store, clock: { now: () => AT } };
  await refreshAllDue(deps);
  const standings = () => store.read((tx) => tx.standings.list());
  const before = await standings();
  expect(before.filter(({ serviceKind }) => serviceKind === 'air-spring')).toEqual([]);

  // What the program would take in a new ledger: 100 terrain hours. Common practice, no source.
  const terms = serviceKindsOf({ unitKind: 'fork' }, []).find(({ name }) => name === 'air-spring')!;
  expect(terms).toMatchObject({ terrainHours: 100, months: null });
  const rule = {
    ...({ unitKind: 'fork', serviceKind: 'air-spring', movingHoursCeiling: 'default' } as const),
    ...{ scope: { fleetId: null, model: null, unitId: null }, terrainHours: 100, months: null },
  };
  const previewed = await store.read(async (tx) =>
    previewIntervals(tx, await listUnitsUnder(tx, rule), rule, AT),
  );
  // Only forks have a lower leg.
  const forks = before.flatMap((one) => (one.serviceKind === 'lower-leg' ? [one.unitId] : []));
  expect(forks.length).toBeGreaterThan(10);
  expect(previewed.map(({ unitId }) => unitId).sort()).toEqual([...forks].sort());
  expect(previewed.every((unit) => unit.before === null)).toBe(true);

  await store.write((tx) => setInterval(tx, rule, 'owner', AT));
  await refreshAllDue(deps);
  const after = await standings();
  const own = new Map(
    after.filter(({ serviceKind }) => serviceKind === 'air-spring').map((one) => [one.unitId, one.state]),
  );
  expect(own).toEqual(new Map(previewed.map(({ unitId, after: then }) => [unitId, then!.state])));
  // The new clocks begin with the upgrade: nothing of it is due or unknown, so nobody is mailed about it.
  const quiet = ['in-time', 'on-the-bench', 'stop-riding'];
  expect([...own.values()].filter((state) => !quiet.includes(state))).toEqual([]);
  const states = (rows: typeof before) =>
    rows
      .filter(({ serviceKind }) => serviceKind !== 'air-spring')
      .map(
        ({ unitId, serviceKind, state }) =>
          `${unitId} ${serviceKind} ${AHEAD.includes(state) ? 'ahead' : state}`,
      )
      .sort();
  expect(states(after)).toEqual(states(before));
});
