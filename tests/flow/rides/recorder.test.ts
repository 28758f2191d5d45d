/** A recorder's serial number tells whose a file is, once two rides of one rider carry it. */
import { expect, it } from 'vitest';
import { forgetRider } from '../../../src/flow/carry/forgetRider.js';
import { answerTray } from '../../../src/flow/rides/answerTray.js';
import { dropPlaces } from '../../../src/flow/rides/dropMarks.js';
import { instant } from '../../../src/units.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

const TWO_RIDERS = {
  ...DOCUMENT,
  riders: [...DOCUMENT.riders, { id: 'r2', name: 'Rider Two' }],
  bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r2', name: 'Bike two', type: 'trail' }],
  units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
  fittings: [...DOCUMENT.fittings, { unit: 'F-2', bike: 'b2', from: '2020-01-01' }],
};
const SERIAL = '3912345678';
const file = (day: number, serial = SERIAL) =>
  rideFile(`2026-05-${String(day).padStart(2, '0')}T08:00:00Z`, 60, {
    serial,
    loopM: 900,
    made: `${day} ${serial}`,
  });
const open = () => FlowWorld.open('2026-06-10T09:00:00Z', TWO_RIDERS);
/** Hours by unit. */
const hoursOf = async (world: FlowWorld) =>
  Object.fromEntries(
    await Promise.all(
      ['F-1', 'F-2'].map(async (unit) => [unit, hours((await world.due(unit)).movingHoursSince)]),
    ),
  );
const hours = (value: unknown): number => Math.round(Number(value) * 100) / 100;
/** Files of nobody in particular, as they lie in a folder that several share. */
const shared = (world: FlowWorld, day: number, serial?: string) =>
  world.take(file(day, serial), { name: `${day}.fit`, rider: null });

it('says it after two confirmed rides, of what waits and of what comes, whatever the order', async () => {
  const world = await open();
  expect(await shared(world, 1)).toMatchObject({ outcome: 'ask', code: 'who', riderRule: null });
  await world.take(file(2), { name: '2.fit', rider: 'r1' });
  expect(await shared(world, 3)).toMatchObject({ outcome: 'ask', code: 'who' });
  await world.take(file(4), { name: '4.fit', rider: 'r1' });
  // The two that waited count now, and the next one at once.
  expect(await world.deps.store.read((tx) => tx.rides.countAsking())).toBe(0);
  expect(await shared(world, 5)).toMatchObject({
    ...{ outcome: 'counted', riderRule: 'recorder', bikeRule: 'only-suspended' },
  });
  expect(await hoursOf(world)).toMatchObject({ 'F-1': 5, 'F-2': 0 });
  // Another recorder's file is nobody's.
  expect(await shared(world, 6, '3900000001')).toMatchObject({ outcome: 'ask', code: 'who' });
  await world.expectSound();
});

it('is taught by answers in the tray, and a second rider makes it ask from then on', async () => {
  const world = await open();
  const waiting = [await shared(world, 1), await shared(world, 2), await shared(world, 9)];
  const { store } = world.deps;
  const [one, two] = [await world.id('rider', 'r1'), await world.id('rider', 'r2')];
  for (const { rides } of waiting.slice(0, 2))
    await store.write((tx) => answerTray(tx, rides[0]!, { riderId: one }, world.entry));
  expect(await store.read((tx) => tx.rides.countAsking())).toBe(0);
  await world.take(file(6), { name: '6.fit', rider: 'r2' });
  // What was before the second rider's stays; what came after it is asked again, and says so.
  const asking = await store.read((tx) => tx.rides.listAsking());
  expect(asking.map(({ id, question }) => [id, question])).toEqual([[waiting[2]!.rides[0], 'who']]);
  expect(await shared(world, 3)).toMatchObject({ outcome: 'counted', riderRule: 'recorder' });
  expect(await shared(world, 7)).toMatchObject({ outcome: 'ask', code: 'who' });
  await world.expectSound();
  // Its rider says so: the first rider's word holds for later ones no more than before.
  await store.write((tx) => answerTray(tx, waiting[2]!.rides[0]!, { riderId: two }, world.entry));
  expect(await hoursOf(world)).toMatchObject({ 'F-1': 3, 'F-2': 2 });
  await world.expectSound();
});

it('goes on when the originals and the places have gone', async () => {
  const world = await open();
  const { store } = world.deps;
  for (const day of [1, 2]) await world.take(file(day), { name: `${day}.fit`, rider: 'r1' });
  await shared(world, 3);
  const ids = await store.read((tx) => tx.readings.listIds());
  await store.write((tx) => dropPlaces(tx, ids, instant(Date.parse('2026-06-10T09:00:00Z'))));
  const marks = await store.read((tx) => tx.readings.listMarks(ids));
  for (const { cells, recorder } of marks.values()) {
    expect(cells).toBe('');
    expect(recorder).toMatch(/^.{16}$/);
    expect(recorder).not.toContain(SERIAL);
  }
  await world.expectSound();
  expect(await shared(world, 4)).toMatchObject({ outcome: 'counted', riderRule: 'recorder' });
  expect(await hoursOf(world)).toMatchObject({ 'F-1': 4 });
  await world.expectSound();
});

it('goes with a rider who is forgotten: the unit keeps its hours, and the next file is asked about', async () => {
  const world = await open();
  const { store } = world.deps;
  for (const day of [1, 2]) await world.take(file(day), { name: `${day}.fit`, rider: 'r1' });
  await shared(world, 3);
  expect(await hoursOf(world)).toMatchObject({ 'F-1': 3 });
  const riderId = await world.id('rider', 'r1');
  await store.write((tx) => forgetRider(tx, riderId, instant(Date.parse('2026-06-10T09:00:00Z'))));
  const ids = await store.read((tx) => tx.readings.listIds());
  expect((await store.read((tx) => tx.readings.listMarks(ids))).size).toBe(0);
  expect((await store.read((tx) => tx.rides.listParts(ids))).map((part) => part.recorder)).toEqual([
    null,
    null,
    null,
  ]);
  expect(await hoursOf(world)).toMatchObject({ 'F-1': 3 });
  await world.expectSound();
  expect(await shared(world, 4)).toMatchObject({ outcome: 'ask', code: 'who' });
  await world.expectSound();
});

it('of two riders who used it, it says the other’s again once one is forgotten', async () => {
  const world = await open();
  const { store } = world.deps;
  for (const day of [1, 2]) await world.take(file(day), { name: `${day}.fit`, rider: 'r2' });
  await world.take(file(3), { name: '3.fit', rider: 'r1' });
  expect(await shared(world, 4)).toMatchObject({ outcome: 'ask' });
  const riderId = await world.id('rider', 'r1');
  await store.write((tx) => forgetRider(tx, riderId, instant(Date.parse('2026-06-10T09:00:00Z'))));
  expect(await store.read((tx) => tx.rides.countAsking())).toBe(0);
  expect(await hoursOf(world)).toMatchObject({ 'F-1': 1, 'F-2': 3 });
  await world.expectSound();
});
