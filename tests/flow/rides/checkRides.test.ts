/** What the check finds where the stored rides were changed behind its back. */
import { beforeEach, expect, it } from 'vitest';
import { listDifferences } from '../../../src/flow/carry/checkLedger.js';
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
