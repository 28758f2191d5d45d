import { expect, it } from 'vitest';
import { removeOldOriginals } from '../../../src/flow/take/removeOldOriginals.js';
import { originalsIn } from '../../../src/inbox/originals.js';
import { scratchFolder } from '../../fixtures/program.js';
import { FlowWorld, rideFile } from '../flowWorld.js';

const MONTHS = 13;

async function kept() {
  const world = await FlowWorld.open('2025-01-10T10:00:00Z');
  const originals = originalsIn(scratchFolder());
  const deps = { ...world.deps, originals };
  const take = async (file: Uint8Array): Promise<string> => {
    await world.take(file, { bike: 'b1' });
    return originals.keep(file);
  };
  return { world, deps, take, left: () => originals.list() };
}

it('removes a file on the day after 13 months, and its hours stay', async () => {
  const { world, deps, take, left } = await kept();
  await take(rideFile('2025-01-09T08:00:00Z', 60));
  const hours = (await world.due('F-1')).movingHoursSince;
  expect(hours).toBeCloseTo(1, 3);
  world.now = '2026-02-10T23:00:00Z';
  await removeOldOriginals(deps, MONTHS);
  expect(await left()).toHaveLength(1);
  world.now = '2026-02-11T00:00:00Z';
  await removeOldOriginals(deps, MONTHS);
  expect(await left()).toEqual([]);
  expect((await world.due('F-1')).movingHoursSince).toBe(hours);
  await world.expectSound();
});

it('keeps what came again since, and what is younger', async () => {
  const { world, deps, take, left } = await kept();
  const again = rideFile('2025-01-08T08:00:00Z', 30);
  const old = await take(rideFile('2025-01-09T08:00:00Z', 60));
  const first = await take(again);
  world.now = '2025-09-01T10:00:00Z';
  const young = await take(rideFile('2025-08-30T08:00:00Z', 60));
  await world.take(again, { rider: null });
  await world.take(again, { bike: 'b1', rule: 'subfolder' });
  world.now = '2026-03-01T10:00:00Z';
  await removeOldOriginals(deps, MONTHS);
  expect([...(await left())].sort()).toEqual([first, young].sort());
  expect(await left()).not.toContain(old);
});

it('removes where a file was with it, and what that decided stays', async () => {
  const { world, deps, take } = await kept();
  const at = (rest: object): Uint8Array => rideFile('2025-01-09T08:00:00Z', 60, { loopM: 20_000, ...rest });
  await take(at({}));
  await take(at({ made: 'twin' }));
  await world.import({ bikes: [{ id: 'b2', rider: 'r1', name: 'Bike two', type: 'trail' }] });
  await world.take(at({ north: 2 }), { bike: 'b2' });
  const marks = () =>
    deps.store.read(async (tx) => (await tx.readings.listMarks(await tx.readings.listIds())).size);
  const before = await deps.store.read((tx) => tx.rides.page('', 100));
  expect([await marks(), before.length]).toEqual([3, 2]);
  world.now = '2026-02-11T00:00:00Z';
  await removeOldOriginals(deps, MONTHS);
  expect(await marks()).toBe(1);
  expect(await deps.store.read((tx) => tx.rides.page('', 100))).toEqual(before);
  await world.expectSound();
});
