import { expect, it } from 'vitest';
import { AlreadyReplaced } from '../../../src/errors.js';
import { arrive, benchUnit, changeJob, collect, findStay } from '../../../src/flow/facts/jobs.js';
import { listUnitStory } from '../../../src/flow/facts/unitStory.js';
import { listJobs } from '../../../src/flow/plan/jobs.js';
import { getUnitLedger } from '../../../src/flow/unitLedger.js';
import { NOW, TODAY, webWorld } from '../../web/webWorld.js';

const entry = { by: 'owner', at: NOW };

async function world() {
  const { store } = await webWorld();
  const unitId = await store.read(async (tx) => (await tx.handles.find('unit', 'F-0001'))!);
  return { store, unitId };
}

it('a job goes from step to step as facts, and its unit is on the bench as long', async () => {
  const { store, unitId } = await world();
  const statesOf = () =>
    store.read(async (tx) => new Set((await tx.standings.listOf(unitId)).map(({ state }) => state)));
  const wish = 'quieter fork';
  let seen = await store.write((tx) => arrive(tx, unitId, { wish, promisedFor: TODAY }, entry));
  expect(await statesOf()).toEqual(new Set(['on-the-bench']));
  for (const step of ['on-the-bench', 'waits-for-parts', 'on-the-bench', 'done', 'informed'] as const) {
    seen = await store.write((tx) => changeJob(tx, unitId, seen, { step }, entry));
    expect((await store.read((tx) => listJobs(tx, NOW))).map(({ stay }) => stay.job)).toMatchObject([
      { step, wish, promisedFor: TODAY, arrivedOn: TODAY },
    ]);
    expect(await statesOf()).toEqual(new Set(['on-the-bench']));
  }
  await store.write((tx) => collect(tx, unitId, seen, false, entry));
  expect(await statesOf()).not.toContain('on-the-bench');
  expect(await store.read((tx) => findStay(tx, unitId))).toBeNull();
  expect(await store.read((tx) => listJobs(tx, NOW))).toEqual([]);
  const story = await store.read((tx) => listUnitStory(tx, unitId));
  expect(story.filter(({ kind }) => kind === 'job')).toHaveLength(7);
});

it('two who move one job at once collide visibly, and nothing of the second is kept', async () => {
  const { store, unitId } = await world();
  const seen = await store.write((tx) => arrive(tx, unitId, {}, entry));
  await store.write((tx) => changeJob(tx, unitId, seen, { step: 'on-the-bench' }, entry));
  const second = store.write((tx) =>
    changeJob(tx, unitId, seen, { step: 'done' }, { ...entry, by: 'bench' }),
  );
  await expect(second).rejects.toThrow(AlreadyReplaced);
  expect((await store.read((tx) => findStay(tx, unitId)))?.job.step).toBe('on-the-bench');
});

it('a unit arrives once, and what is not there does not leave', async () => {
  const { store, unitId } = await world();
  const refused = (isIn: boolean) =>
    expect(store.write((tx) => benchUnit(tx, unitId, isIn, entry))).rejects.toMatchObject({
      code: 'refused',
    });
  await refused(false);
  await store.write((tx) => benchUnit(tx, unitId, true, entry));
  await refused(true);
  await store.write((tx) => benchUnit(tx, unitId, false, entry));
  await refused(false);
});

it('what a program from before jobs wrote is a job that goes on', async () => {
  const { store, unitId } = await world();
  await store.write((tx) => tx.facts.add({ kind: 'bench', body: { unitId, in: true }, ...entry }));
  const stay = await store.read((tx) => findStay(tx, unitId));
  expect(stay).toMatchObject({ factId: null, job: { step: 'arrived', arrivedOn: TODAY } });
  await store.write((tx) => changeJob(tx, unitId, null, { step: 'on-the-bench' }, entry));
  // Whoever still sees the former one is told that it moved on.
  await expect(store.write((tx) => changeJob(tx, unitId, null, { step: 'done' }, entry))).rejects.toThrow(
    AlreadyReplaced,
  );
  await store.write((tx) => benchUnit(tx, unitId, false, entry));
  expect(await store.read((tx) => findStay(tx, unitId))).toBeNull();
  await store.write((tx) => tx.facts.add({ kind: 'bench', body: { unitId, in: false }, ...entry }));
  expect(await store.read((tx) => findStay(tx, unitId))).toBeNull();
});

it('a unit in its box goes back on the bike that it was on last when it is collected', async () => {
  const { store, unitId } = await world();
  const seen = await store.write((tx) => arrive(tx, unitId, {}, entry));
  const [fitting] = await store.read((tx) => tx.facts.list('fitting', { subject: unitId }));
  const off = { ...fitting!.body, to: TODAY };
  await store.write((tx) => tx.facts.replace(fitting!.id, { kind: 'fitting', body: off, ...entry }));
  expect((await store.read((tx) => listJobs(tx, NOW)))[0]?.backTo).toBe('Green trail bike');
  await store.write((tx) => collect(tx, unitId, seen, true, entry));
  const { fittings } = await store.read((tx) => getUnitLedger(tx, unitId, 'Europe/Lisbon'));
  expect(fittings.at(-1)).toMatchObject({ bikeId: fitting!.body.bikeId, from: NOW, to: null });
});
