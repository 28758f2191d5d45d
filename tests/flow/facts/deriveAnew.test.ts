/** What an earlier program derived follows this one's way as soon as the store is opened, and only once. */

import { expect, test } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { verifyCopy } from '../../../src/flow/carry/verifyCopy.js';
import { deriveAnew } from '../../../src/flow/facts/deriveAnew.js';
import { instant } from '../../../src/units.js';
import { allRides } from '../../fixtures/allRides.js';
import { openTestStore } from '../../fixtures/storePlace.js';
import { DOCUMENT, FlowWorld } from '../flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';

/** A light rider's fork with two hours on rough ground, kept by a program that held each ride to the bounds. */
async function ofBefore(): Promise<FlowWorld> {
  const world = await FlowWorld.open(NOON, {
    ...DOCUMENT,
    fleets: [{ id: 't1', name: 'Team' }],
    bikes: [{ id: 'b1', fleet: null, name: 'Bike', type: 'gravity' }],
    units: [{ tag: 'F-1', unitKind: 'fork', history: 'new', factor: 0.6 }],
    hours: [{ bike: 'b1', on: '2025-06-10', minutes: 120, ground: 'rough' }],
    weights: { smooth: 0.5, typical: 1, rough: 4 },
  });
  await world.deps.store.write(async (tx) => {
    const rides = await allRides(tx);
    await tx.rides.put(rides.map((ride) => ({ ...ride, groundMs: ride.terrainMs })));
    await tx.derived.set(0);
  });
  return world;
}

test('a store of before is sound once it is derived anew, and its units have the hours of this way', async () => {
  const world = await ofBefore();
  expect((await checkLedger(world.deps.store)).ok).toBe(false);
  expect(await deriveAnew(world.deps)).toBe(true);
  await world.expectSound();
  // 2 h × 4 × 0.6 on its way to the bounds, and not 2 h × 3 × 0.6.
  expect((await world.due('F-1')).terrainHoursSince).toBeCloseTo(4.8, 6);
  expect(await deriveAnew(world.deps)).toBe(false);
});

test('a copy of it is verified as it will be opened', async () => {
  const world = await ofBefore();
  expect(await verifyCopy(world.deps.store, instant(Date.parse(NOON)))).toEqual([]);
});

test('a store without a workshop has nothing to derive', async () => {
  const now = instant(Date.parse(NOON));
  const store = await openTestStore(now);
  expect(await deriveAnew({ store, clock: { now: () => now } })).toBe(false);
  expect(await store.read((tx) => tx.derived.get())).toBeGreaterThan(0);
});
