/** What the check finds where the stored rides were changed behind its back. */
import { beforeEach, expect, it } from 'vitest';
import { checkLedger, listDifferences } from '../../../src/flow/carry/checkLedger.js';
import type { Tx } from '../../../src/ports/store.js';
import { FlowWorld, rideFile } from '../flowWorld.js';

class RolledBack extends Error {}

let world: FlowWorld;
let rides: string[] = [];

beforeEach(async () => {
  rides = [];
  world = await FlowWorld.open('2025-06-10T12:00:00Z');
  for (const day of ['01', '02', '03']) {
    const taken = await world.take(rideFile(`2025-06-${day}T08:00:00Z`, 60), { bike: 'b1' });
    rides.push(...taken.rides);
  }
  expect(rides).toHaveLength(3);
});

/** Returns what is found of the rides after a change, which is then rolled back. */
async function foundAfter(change: (tx: Tx) => Promise<void>): Promise<string[]> {
  let found: string[] = [];
  const done = world.deps.store.write(async (tx) => {
    await change(tx);
    found = (await listDifferences(tx)).filter((one) => !one.startsWith('standing'));
    throw new RolledBack();
  });
  await expect(done).rejects.toThrow(RolledBack);
  return found;
}

it('nothing, where nothing was changed', async () => {
  expect(await foundAfter(async () => {})).toEqual([]);
});

it('a ride that says other than its recordings', async () => {
  const found = await foundAfter(async (tx) => {
    const ride = (await tx.rides.find(rides[1]!))!;
    await tx.rides.put([{ ...ride, distanceM: ride.distanceM + 1 }]);
  });
  expect(found).toEqual([`ride ${rides[1]} differs from its facts`]);
});

it('a ride that is gone, with the place of its recording', async () => {
  const found = await foundAfter((tx) => tx.rides.remove([rides[1]!]));
  expect(found).toEqual([
    `ride ${rides[1]} is missing`,
    expect.stringMatching(/^reading .* stands with another ride than its facts say$/),
  ]);
});

it('a ride that no recording makes', async () => {
  const found = await foundAfter(async (tx) => {
    const ride = (await tx.rides.find(rides[1]!))!;
    await tx.rides.put([{ ...ride, id: 'made-up' }]);
  });
  expect(found).toEqual(['ride made-up stands on no fact']);
});

it('a recording that is placed where it was not', async () => {
  const found = await foundAfter(async (tx) => {
    const ride = (await tx.rides.find(rides[1]!))!;
    const [part] = await tx.rides.listParts([ride.readingIds[0]!]);
    await tx.rides.put([], [{ ...part!, riderId: null, bikeId: null }]);
  });
  expect(found).toEqual([expect.stringMatching(/^reading .* stands with another ride than its facts say$/)]);
});

it('lists what joining took from a unit, and a recording that lies over two rides; they are no faults', async () => {
  const world = await FlowWorld.open('2025-06-20T12:00:00Z');
  await world.take(rideFile('2025-06-10T08:00:00Z', 60), { name: 'morning.fit', bike: 'b1' });
  await world.take(rideFile('2025-06-10T10:00:00Z', 60), { name: 'noon.fit', bike: 'b1' });
  await world.take(rideFile('2025-06-10T08:00:00Z', 180), { name: 'whole.fit', bike: 'b1' });
  const { ok, joined } = await checkLedger(world.deps.store);
  expect(ok).toBe(true);
  expect(joined.charges).toEqual([{ unit: 'F-1', movingS: 3 * 3600, aloneS: 5 * 3600 }]);
  expect(joined.covering).toMatchObject([{ file: 'whole.fit', covers: ['morning.fit', 'noon.fit'] }]);
});
