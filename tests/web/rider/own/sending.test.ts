/** What follows a sending that asks for the bike: reminders wait for the answer, and single days may be exceptions. */
import { expect, it } from 'vitest';
import { answerTray } from '../../../../src/flow/rides/answerTray.js';
import { DAY_MS } from '../../../../src/units.js';
import { rideFile } from '../../../flow/flowWorld.js';
import { DOCUMENT, linkOf, RiderWorld } from '../../../flow/riderWorld.js';

/** Two trail bikes with forks: nothing tells which of them a ride was on. */
const document = {
  ...DOCUMENT,
  bikes: [...DOCUMENT.bikes, { id: 'b1c', rider: 'r1', name: 'Heather', type: 'trail' }],
  units: [...DOCUMENT.units, { tag: 'F-3', unitKind: 'fork', history: 'new' }],
  fittings: [...DOCUMENT.fittings, { unit: 'F-3', bike: 'b1c', from: '2026-01-01' }],
};
const DAYS = ['2026-06-05', '2026-06-06', '2026-06-07'];

async function sent() {
  const world = await RiderWorld.open({ document });
  const rides: string[] = [];
  for (const on of DAYS)
    rides.push(...(await world.flow.take(rideFile(`${on}T08:00:00Z`, 60), { name: `${on}.fit` })).rides);
  const toRider = async () =>
    (await world.beat()).filter(({ to }) => to.address === 'r1@example.org').map(({ text }) => text);
  const after = (days: number) => {
    world.now = new Date(Date.parse(world.now) + days * DAY_MS).toISOString();
  };
  return { world, rides, toRider, after };
}

/** The own page, by the reminder that waits no longer. */
async function homeOf(world: RiderWorld): Promise<string> {
  world.now = new Date(Date.parse(world.now) + 4 * DAY_MS).toISOString();
  return linkOf(await world.reminderTo('r1@example.org'), 'page');
}

it('reminders wait while all that came asks for its bike, and go once it is answered', async () => {
  const { world, rides, toRider, after } = await sent();
  expect(await toRider()).toEqual([]);
  // The workshop, which the answer changes nothing for, hears at once.
  expect(world.sent.map(({ to }) => to.address)).toContain('bench@example.org');
  after(1);
  expect(await toRider()).toEqual([]);
  const bikeId = await world.flow.id('bike', 'b1');
  const entry = { by: 'owner', at: world.deps.clock.now() };
  for (const id of rides) await world.store.write((tx) => answerTray(tx, id, { bikeId }, entry));
  after(1);
  const [reminder = ''] = await toRider();
  // It counts what was answered: 52 h and three rides of an hour each.
  expect(reminder).toContain('55');
  await world.flow.expectSound();
});

it('unanswered, reminders wait three days and no longer', async () => {
  const { toRider, after } = await sent();
  expect(await toRider()).toEqual([]);
  after(2);
  expect(await toRider()).toEqual([]);
  after(2);
  expect(await toRider()).toHaveLength(1);
});

it('some days of a set are put on another bike, and an exception that is unclear saves nothing', async () => {
  const { world, rides } = await sent();
  const home = await homeOf(world);
  const page = await world.text(`${home}/rides`);
  const key = /name="key.0" value="([^"]*)"/.exec(page)![1]!;
  const [first, other] = [await world.flow.id('bike', 'b1'), await world.flow.id('bike', 'b1c')];
  const set = { say: 'sets', 'key.0': key, 'bike.0': first };
  const facts = await world.facts();
  for (const unclear of [
    { 'from.0': DAYS[1]! },
    { 'other.0': other },
    { 'from.0': DAYS[2]!, 'to.0': DAYS[1]!, 'other.0': other },
  ])
    expect((await world.post(`${home}/rides`, { ...set, ...unclear })).status).toBe(422);
  expect(await world.facts()).toBe(facts);
  const saved = await world.post(`${home}/rides`, { ...set, 'from.0': DAYS[1]!, 'other.0': other });
  expect(await saved.text()).toContain('1 ride on Heather');
  const bikes = await world.store.read(async (tx) => {
    const found = await Promise.all(rides.map((id) => tx.rides.find(id)));
    return found.map((ride) => ride!.bikeId);
  });
  expect(bikes).toEqual([first, other, first]);
  await world.flow.expectSound();
});
