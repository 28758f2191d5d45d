import { expect, test } from 'vitest';
import type { IntervalFact } from '../../../src/core/ledger/facts.js';
import { listUnitsUnder, previewInterval } from '../../../src/flow/due/previewInterval.js';
import { refreshAllDue } from '../../../src/flow/due/refreshDue.js';
import { setInterval } from '../../../src/flow/facts/enterFacts.js';
import { NOW, webWorld } from '../../web/webWorld.js';

const rule = (rest: Partial<IntervalFact> = {}): IntervalFact => ({
  unitKind: 'fork',
  serviceKind: 'lower-leg',
  scope: { fleetId: null, model: null, unitId: null },
  terrainHours: 40,
  months: 12,
  movingHoursCeiling: 'default',
  ...rest,
});

test('a preview comes to what saving then comes to, for every unit and many rules', async () => {
  for (const terrainHours of [10, 36, 45, 46, 60, null]) {
    const { store, deps } = await webWorld();
    const wanted = rule({ terrainHours });
    const previewed = await store.read(async (tx) => {
      const unitIds = await listUnitsUnder(tx, wanted);
      return Promise.all(unitIds.map((unitId) => previewInterval(tx, unitId, wanted, NOW)));
    });
    expect(previewed).toHaveLength(3);
    await store.write((tx) => setInterval(tx, wanted, 'owner', NOW));
    await refreshAllDue(deps);
    const standings = await store.read((tx) => tx.standings.list());
    for (const unit of previewed) {
      const saved = standings.find((one) => one.unitId === unit!.unitId && one.serviceKind === 'lower-leg')!;
      expect(unit!.after).toEqual({ state: saved.state, likely: saved.likely });
    }
  }
});

test('what stands now is told as of now, also where the stored forecast is stale', async () => {
  const { store, deps } = await webWorld();
  const preview = (unitId: string) => store.read((tx) => previewInterval(tx, unitId, rule(), NOW));
  const unitId = (await store.read((tx) => tx.handles.find('unit', 'F-0001')))!;
  const fresh = await preview(unitId);
  await store.write(async (tx) => {
    const rows = await tx.standings.listOf(unitId);
    await tx.standings.put(
      unitId,
      rows.map((row) => ({ ...row, stale: true })),
    );
  });
  expect(await preview(unitId)).toEqual(fresh);
  await refreshAllDue(deps);
  expect(fresh!.before!.state).toBe('coming-up');
  expect(fresh!.after!.state).toBe('due');
});

test('a wider rule moves no unit that has a narrower one, and a rule names only those it may apply to', async () => {
  const { store } = await webWorld();
  const unitId = (await store.read((tx) => tx.handles.find('unit', 'F-0001')))!;
  const own = rule({ scope: { fleetId: null, model: null, unitId }, terrainHours: 90 });
  await store.write((tx) => setInterval(tx, own, 'owner', NOW));
  const unit = await store.read((tx) => previewInterval(tx, unitId, rule({ terrainHours: 10 }), NOW));
  expect(unit!.after).toEqual(unit!.before);
  expect(await store.read((tx) => listUnitsUnder(tx, own))).toEqual([unitId]);
  const ofModel = rule({ scope: { fleetId: null, model: 'Sample fork T-150', unitId: null } });
  expect(await store.read((tx) => listUnitsUnder(tx, ofModel))).toEqual([unitId]);
});
