/** The name of the profile on a recorder, and what follows from one answer. */
import { expect, it } from 'vitest';
import { answerTray } from '../../../src/flow/rides/answerTray.js';
import type { Taken } from '../../../src/flow/take/ingestFile.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

const TWO_BIKES = {
  ...DOCUMENT,
  riders: [...DOCUMENT.riders, { id: 'r2', name: 'Rider Two' }],
  bikes: [
    ...DOCUMENT.bikes,
    { id: 'b2', rider: 'r1', name: 'Bike two', type: 'trail' },
    { id: 'b3', rider: 'r2', name: 'Bike three', type: 'trail' },
    { id: 'b4', rider: 'r2', name: 'Bike four', type: 'trail' },
  ],
  units: ['F-1', 'F-2', 'F-3', 'F-4'].map((tag) => ({ tag, unitKind: 'fork', history: 'new' })),
  fittings: [1, 2, 3, 4].map((n) => ({ unit: `F-${n}`, bike: `b${n}`, from: '2020-01-01' })),
};

const day = (n: number): string => `2026-05-${String(n).padStart(2, '0')}T08:00:00Z`;
const onTrail = { subSport: 'mountain', profile: 'MOUNTAIN' };

async function asking(world: FlowWorld): Promise<number> {
  return world.deps.store.read((tx) => tx.rides.countAsking());
}

it('one answer tells the bike of all that rider’s rides with that profile, before and after, and of nobody else’s', async () => {
  const world = await FlowWorld.open('2026-06-10T09:00:00Z', TWO_BIKES);
  const taken: Taken[] = [];
  for (const n of [1, 2, 3])
    taken.push(await world.take(rideFile(day(n), 60, onTrail), { name: `${n}.fit` }));
  await world.take(rideFile(day(4), 60, { subSport: 'mountain', profile: 'Commute' }), { name: '4.fit' });
  await world.take(rideFile(day(5), 60, { ...onTrail, made: 'other' }), { name: '5.fit', rider: 'r2' });
  expect(await asking(world)).toBe(5);
  const bikeId = await world.id('bike', 'b2');
  const { store } = world.deps;
  await store.write((tx) => answerTray(tx, taken[1]!.rides[0]!, { bikeId }, world.entry));
  expect(await asking(world)).toBe(2);
  const first = await store.read((tx) => tx.rides.find(taken[0]!.rides[0]!));
  expect(first).toMatchObject({ bikeId, bikeRule: 'profile', question: null });
  // What comes later needs no word.
  expect(await world.take(rideFile(day(6), 90, onTrail), { name: '6.fit' })).toMatchObject({
    outcome: 'counted',
    bikeRule: 'profile',
  });
  // Another word takes the place of the first, and the rides follow it.
  const other = await world.id('bike', 'b1');
  await store.write((tx) => answerTray(tx, taken[1]!.rides[0]!, { bikeId: other }, world.entry));
  const moved = await store.read((tx) => tx.rides.find(taken[0]!.rides[0]!));
  expect(moved).toMatchObject({ bikeId: other, bikeRule: 'profile' });
  await world.expectSound();
});

it('a ride indoors is kept without a question, whichever bike it was', async () => {
  const world = await FlowWorld.open('2026-06-10T09:00:00Z', TWO_BIKES);
  const taken = await world.take(rideFile(day(1), 60, { subSport: 'indoor_cycling' }), { name: 'i.fit' });
  expect(taken.outcome).toBe('kept-only');
  expect(await asking(world)).toBe(0);
  await world.expectSound();
});
