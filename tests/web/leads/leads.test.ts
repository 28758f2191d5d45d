import { expect, it } from 'vitest';
import { type TeamWorld, teamWorld } from '../teamWorld.js';
import { plain } from '../visitor.js';

const leadOf = ({ store }: TeamWorld) => store.read(async (tx) => (await tx.leads.list())[0]!);

it('a lead is booked, moved and cancelled, and the rider gets a mail each time', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const { id } = await leadOf(world);
  expect(plain(await owner.text('/leads'))).toMatch(/Open .*F-0001.*Pia Lanternby/);
  for (const [day, shown] of [
    ['2026-06-12', 'Friday 12 June'],
    ['2026-06-16', 'Tuesday 16 June'],
  ] as const) {
    const response = await owner.send('/leads', `/leads/${id}/book`, { day });
    expect(response.headers.get('location')).toBe('/leads?done=booked');
    expect(plain(await owner.text('/leads'))).toContain(`booked for ${shown}`);
    expect(await leadOf(world)).toMatchObject({ state: 'booked', day, changedBy: 'owner' });
  }
  expect(plain(await owner.text('/bench'))).toMatch(/Tuesday 16 June F-0001/);
  const mails = () => world.store.read((tx) => tx.mails.listOfKind('booking'));
  expect(await mails()).not.toHaveLength(0);
  await owner.send('/leads', `/leads/${id}/decline`, {});
  expect(await leadOf(world)).toMatchObject({ state: 'declined' });
});

it('a day that has passed, is closed or is none is refused with the reason, and nothing is booked', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const { id } = await leadOf(world);
  for (const [day, status, why] of [
    ['2026-06-09', 422, 'Choose a day from today on.'],
    ['someday', 422, 'Choose a day from today on.'],
    ['2026-06-14', 409, 'There is no place on Sunday 14 June'],
  ] as const) {
    const response = await owner.send('/leads', `/leads/${id}/book`, { day });
    expect(response.status).toBe(status);
    expect(plain(await response.text())).toContain(why);
  }
  expect(await leadOf(world)).toMatchObject({ state: 'open' });
  const anyway = await owner.send('/leads', `/leads/${id}/book`, { day: '2026-06-14', evenIfFull: 'yes' });
  expect(anyway.status).toBe(303);
});

it('a lead that is done leaves the list', async () => {
  const world = await teamWorld();
  const owner = await world.as('tech');
  const { id } = await leadOf(world);
  expect((await owner.send('/leads', `/leads/${id}/done`, {})).status).toBe(303);
  expect(plain(await owner.text('/leads'))).not.toContain('F-0001');
});
