import { expect, it } from 'vitest';
import { setUpFields } from '../../../src/core/plan/setUp.js';
import { addSetUp, listSetUps, setBackTo } from '../../../src/flow/plan/setUps.js';
import { FlowWorld } from '../flowWorld.js';

it('tells how a unit came and left, keeps sets by name, and sets back to any of them', async () => {
  const world = await FlowWorld.open('2026-06-10T09:00:00Z');
  const unitId = await world.id('unit', 'F-1');
  const { store } = world.deps;
  const values = { pressure: '80 psi', rebound: '9' };
  const came = await store.write((tx) =>
    addSetUp(tx, { unitId, stage: 'came', name: null, values }, world.entry),
  );
  const kept = await store.write((tx) =>
    addSetUp(tx, { unitId, stage: 'kept', name: 'Hill', values: { rebound: '12' } }, world.entry),
  );
  await store.write((tx) =>
    addSetUp(tx, { unitId, stage: 'kept', name: 'hill', values: { rebound: '11' } }, world.entry),
  );
  await store.write((tx) => setBackTo(tx, unitId, came, world.entry));
  const set = () => store.read((tx) => listSetUps(tx, unitId));
  expect((await set()).left?.body).toEqual({ unitId, stage: 'left', on: '2026-06-10', name: null, values });
  // The latest of a name stands for it, however it is written.
  expect((await set()).kept.map(({ body }) => [body.name, body.values.rebound])).toEqual([['hill', '11']]);
  await store.write((tx) => setBackTo(tx, unitId, kept, world.entry));
  expect((await set()).left?.body).toMatchObject({ name: 'Hill', values: { rebound: '12' } });
  await expect(store.write((tx) => setBackTo(tx, unitId, 'nothing', world.entry))).rejects.toThrow();
  await world.expectSound();
});

it('asks an air fork for its pressure and tokens, and what is on a coil for its spring', () => {
  expect(setUpFields({ unitKind: 'fork' })).toContain('pressure');
  expect(setUpFields({ unitKind: 'fork', spring: 'coil' })).not.toContain('pressure');
  expect(setUpFields({ unitKind: 'coil-shock' })).toContain('springRate');
});
