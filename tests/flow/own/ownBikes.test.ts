/** What riders say of their own bikes: each changes hours or what is told, and can be taken back where it says so. */
import { expect, it } from 'vitest';
import { endFitting } from '../../../src/flow/fittings/fittings.js';
import {
  addOwnBike,
  bringBack,
  findOwnBike,
  sayHours,
  sayMotor,
  saySold,
  sayUsual,
  sayWet,
} from '../../../src/flow/own/ownBikes.js';
import { listSaid, takeBack } from '../../../src/flow/own/said.js';
import type { Tx } from '../../../src/ports/store.js';
import { day, moment } from '../../../src/units.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

async function opened() {
  const world = await FlowWorld.open('2026-06-10T09:00:00Z', DOCUMENT);
  const riderId = await world.id('rider', 'r1');
  const bikeId = await world.id('bike', 'b1');
  const entry = { ...world.entry, by: `rider ${riderId}` };
  const write = <T>(work: (tx: Tx) => Promise<T>): Promise<T> => world.deps.store.write(work);
  const bike = () => write((tx) => findOwnBike(tx, riderId, 'b1', entry.at));
  return { world, riderId, bikeId, entry, write, bike };
}

it('a wet day weighs its rides 1.2 times as much, and hours that nobody recorded are added', async () => {
  const { world, bikeId, entry, write } = await opened();
  await world.take(rideFile('2026-06-08T08:00:00Z', 60));
  const before = (await world.due('F-1')).terrainHoursSince;
  // Common practice, no source: mud shortens intervals; the factor is a default of ours.
  expect(await write((tx) => sayWet(tx, bikeId, day('2026-06-08'), entry))).toBe(1);
  expect((await world.due('F-1')).terrainHoursSince).toBeCloseTo(1.2 * before, 4);
  expect(await write((tx) => sayWet(tx, bikeId, day('2026-06-07'), entry))).toBe(0);
  await write((tx) => sayHours(tx, bikeId, { on: day('2026-06-09'), minutes: 90, ground: 'typical' }, entry));
  expect((await world.due('F-1')).movingHoursSince).toBeCloseTo(2.5, 4);
  await world.expectSound();
});

it('a sold bike takes along what is on it and no later ride, until that is taken back', async () => {
  const { world, riderId, bikeId, entry, write, bike } = await opened();
  const own = (await bike())!;
  expect(await write((tx) => saySold(tx, own, day('2026-06-09'), entry))).toBe(1);
  const later = await world.take(rideFile('2026-06-10T06:00:00Z', 60), { name: 'later.fit' });
  expect(later.outcome).toBe('kept-only');
  const said = await write((tx) => listSaid(tx, riderId));
  expect(said.map(({ kind }) => kind)).toEqual(['bike', 'gone']);
  expect(await write((tx) => takeBack(tx, riderId, said[0]!.fact.id, entry))).toBe(true);
  expect((await bike())!.units.map(({ body }) => body.tag)).toEqual(['F-1']);
  const back = await world.deps.store.read((tx) => tx.rides.find(later.rides[0]!));
  expect(back!.bikeId).toBe(bikeId);
  expect((await world.due('F-1')).movingHoursSince).toBeCloseTo(1, 4);
  // What another said is not the rider's to take back.
  expect(await write((tx) => takeBack(tx, riderId, said[0]!.fact.id, entry))).toBe(false);
  await world.expectSound();
});

it('a part that was stored comes back, a motor is said, and a new bike comes with its fork', async () => {
  const { world, riderId, bikeId, entry, write, bike } = await opened();
  const unitId = await world.id('unit', 'F-1');
  await write((tx) => endFitting(tx, unitId, moment('2026-06-01T10:00:00Z'), entry));
  const { units, stored } = (await bike())!;
  expect([units.length, stored.length]).toEqual([0, 1]);
  await write((tx) => bringBack(tx, stored[0]!, entry));
  expect((await bike())!.units).toHaveLength(1);
  expect(await write((tx) => sayMotor(tx, bikeId, true, entry))).toBe(true);
  expect(await write((tx) => sayMotor(tx, bikeId, true, entry))).toBe(false);
  const unit = { unitKind: 'fork', spring: 'air', model: null, serial: null, history: 'new' } as const;
  const bikeNew = { name: 'Blue', type: 'trail', since: day('2026-06-10'), units: [unit] } as const;
  const added = await write((tx) => addOwnBike(tx, riderId, bikeNew, entry));
  expect(added!.body).toMatchObject({ name: 'Blue', riderId });
  await world.expectSound();
});

it('the usual bike takes rides that would ask, from its day on and no others, until another is usual or it is no longer', async () => {
  const { world, riderId, entry, write } = await opened();
  const air = { unitKind: 'fork', spring: 'air', model: null, serial: null, history: 'new' } as const;
  const blue = { name: 'Blue', type: 'trail', since: day('2026-05-01'), units: [air] } as const;
  const added = (await write((tx) => addOwnBike(tx, riderId, blue, entry)))!;
  const first = await world.id('bike', 'b1');
  const bikeOf = async (rideId: string) => {
    const ride = (await world.deps.store.read((tx) => tx.rides.find(rideId)))!;
    return [ride.bikeId, ride.bikeRule];
  };
  const take = async (on: string) => {
    const { rides } = await world.take(rideFile(`${on}T08:00:00Z`, 60), { name: `${on}.fit` });
    return rides[0]!;
  };
  const [before, then] = [await take('2026-06-01'), await take('2026-06-05')];
  expect(await bikeOf(then)).toEqual([null, null]);
  await write((tx) => sayUsual(tx, first, day('2026-06-03'), entry));
  expect(await bikeOf(before)).toEqual([null, null]);
  expect(await bikeOf(then)).toEqual([first, 'usual']);
  const late = await take('2026-06-08');
  expect(await bikeOf(late)).toEqual([first, 'usual']);
  // Another bike from a later day on leaves the earlier rides where they are.
  await write((tx) => sayUsual(tx, added.entityId, day('2026-06-07'), entry));
  expect(await bikeOf(late)).toEqual([added.entityId, 'usual']);
  expect(await bikeOf(then)).toEqual([first, 'usual']);
  await write((tx) => sayUsual(tx, first, null, entry));
  expect(await bikeOf(then)).toEqual([null, null]);
  await world.expectSound();
});
