/** A job at home from the press to the book, with what the bench, the shelf and the reminders make of it. */
import { describe, expect, it } from 'vitest';
import { setParts } from '../../../src/flow/counter/setParts.js';
import { voidFact } from '../../../src/flow/facts/changeFact.js';
import { addHours } from '../../../src/flow/facts/enterFacts.js';
import { chooseHome, findHomePage, logHome } from '../../../src/flow/home/atHome.js';
import { getKits, listBadAnswers, sayKit } from '../../../src/flow/home/kits.js';
import { listSubjects } from '../../../src/flow/mail/listSubjects.js';
import { getBenchPlan } from '../../../src/flow/plan/benchPlan.js';
import { putVisit } from '../../../src/flow/plan/bookings.js';
import { countShelf, listPartRows, listShelf } from '../../../src/flow/plan/partsShelf.js';
import { day } from '../../../src/units.js';
import { DOCUMENT, RiderWorld, withWorkshop } from '../riderWorld.js';

const MODEL = 'Sample fork T-150';
const homeJobs = [{ unitKind: 'fork', serviceKind: 'lower-leg', model: MODEL, stopHere: 'a wet brake' }];
/** Invented: two forks that come up, of a model that may be done at home. */
const document = (hours = 46) => ({
  ...withWorkshop({ homeJobs, phone: '+000 555 0100' }),
  units: DOCUMENT.units.map((unit) => ({
    ...unit,
    model: MODEL,
    history: { terrainHours: hours, movingHours: hours, asOf: '2026-06-01' },
  })),
});

async function homeWorld(hours?: number) {
  const world = await RiderWorld.open({ document: document(hours) });
  await world.beat();
  const unitId = await world.flow.id('unit', 'F-1');
  const riderId = await world.flow.id('rider', 'r1');
  const of = { unitId, serviceKind: 'lower-leg' };
  const { ids } = world.deps;
  const now = () => world.deps.clock.now();
  const page = async () => (await world.store.read((tx) => findHomePage(tx, riderId, of, now())))!;
  const entry = () => ({ by: `rider ${riderId}`, at: now() });
  const choose = async () => {
    const seen = await page();
    return world.store.write((tx) => chooseHome(tx, riderId, seen, entry(), ids));
  };
  const log = async (findings: Record<string, string>, on = '2026-06-10') => {
    const seen = await page();
    const said = {
      on: day(on),
      findings,
      photos: [],
      shows: 'rings',
      stopWhy: () => 'done at home',
    } as const;
    return world.store.write((tx) => logHome(tx, seen, seen.chosen!, said, entry()));
  };
  const kits = () => world.store.read((tx) => getKits(tx, now()));
  const bad = () => world.store.read((tx) => listBadAnswers(tx, now()));
  return { world, unitId, riderId, page, entry, choose, log, kits, bad, now };
}

const WELL = { foamRings: 'honey', stanchions: 'clean', damper: 'smooth', leaks: 'none' };

it('is chosen once, holds no place, and stands in the list to pick up with the parts of its model', async () => {
  const { world, page, choose, kits, entry } = await homeWorld();
  const address = { unitKind: 'fork', serviceKind: 'lower-leg', model: MODEL } as const;
  const use = { part: 'Wiper set 35', count: 1, measure: 'pieces' } as const;
  await world.store.write((tx) =>
    setParts(tx, address, [{ factId: null, use }], { ...entry(), why: 'typed' }),
  );
  expect(await choose()).toBe(true);
  expect((await page()).chosen?.body).toMatchObject({ step: 'chosen', chosenOn: '2026-06-10' });
  expect(await choose()).toBe(false);
  expect((await kits()).toPickUp).toMatchObject([{ tag: 'F-1', parts: [use], rider: 'Rider 1' }]);
  expect(await world.lead('F-1')).toMatchObject({ state: 'open', day: null });
  await world.flow.expectSound();
});

it('a day for this job alone is given up and told; one with other jobs stays, and nothing is chosen', async () => {
  const { world, unitId, choose, entry } = await homeWorld();
  const book = (jobs: string[]) =>
    world.store.write((tx) =>
      putVisit(tx, { units: [{ unitId, jobs }], day: day('2026-06-16') }, 'booked', entry(), world.deps.ids),
    );
  await book(['full']);
  expect(await choose()).toBe(false);
  expect(await world.lead('F-1')).toMatchObject({ state: 'booked' });
  await book(['lower-leg']);
  expect(await choose()).toBe(true);
  expect(await world.lead('F-1')).not.toMatchObject({ state: 'booked' });
});

describe('its reminders', () => {
  it('the repeat rests for 21 days from the choice', async () => {
    const { world, choose } = await homeWorld();
    expect(world.sent.some(({ to }) => to.address === 'r1@example.org')).toBe(true);
    world.now = '2026-06-25T09:00:00Z';
    await choose();
    const toRider = async (time: string) => {
      world.now = time;
      return (await world.beat()).filter(({ to }) => to.address === 'r1@example.org').length;
    };
    // 21 days after the mail, but not after the choice; a rider who chose nothing gets the repeat.
    expect(await toRider('2026-07-02T09:00:00Z')).toBe(0);
    expect(world.sent.filter(({ to }) => to.address === 'r2@example.org')).toHaveLength(2);
    expect(await toRider('2026-07-15T09:00:00Z')).toBe(0);
    expect(await toRider('2026-07-16T09:00:00Z')).toBe(1);
  });

  it('due goes all the same', async () => {
    const { world, choose } = await homeWorld();
    await choose();
    const bikeId = await world.flow.id('bike', 'b1');
    world.now = '2026-06-12T09:00:00Z';
    const hours = { bikeId, on: day('2026-06-11'), minutes: 360, ground: 'typical', note: null } as const;
    await world.store.write((tx) => addHours(tx, hours, { by: 'test', at: world.deps.clock.now() }));
    const mails = (await world.beat()).filter(({ to }) => to.address === 'r1@example.org');
    expect(mails).toHaveLength(1);
    expect(mails[0]!.subject).toContain('due');
  });
});

it('its parts leave the shelf when they are picked up, once, whatever is logged later', async () => {
  const { world, choose, log, kits, entry, unitId } = await homeWorld();
  const part = 'fork lower-leg set';
  const count = (n: number) =>
    world.store.write((tx) => countShelf(tx, { part, count: n, deliveryDays: 3, countedOn: null }, entry()));
  const left = async () =>
    (await world.store.read(async (tx) => listShelf(tx, await listPartRows(tx))))[0]!.left;
  const later = (minute: number) => {
    world.now = `2026-06-10T09:${String(minute).padStart(2, '0')}:00Z`;
  };
  await count(5);
  later(1);
  await choose();
  expect(await left()).toBe(5);
  later(2);
  const [kit] = (await kits()).toPickUp;
  const handOver = () => world.store.write((tx) => sayKit(tx, unitId, kit!.factId, 'picked-up', entry()));
  await handOver();
  expect(await left()).toBe(4);
  // Two people press at once: it leaves the shelf once.
  await expect(handOver()).rejects.toMatchObject({ code: 'already-replaced' });
  later(3);
  await log(WELL);
  expect(await left()).toBe(4);
  later(4);
  await count(4);
  expect(await left()).toBe(4);
  await world.flow.expectSound();
});

it('the bench plans no time for it, and the shelf its kit until that is picked up', async () => {
  const { world, choose, kits, entry, unitId } = await homeWorld(49);
  const plan = () => world.store.read((tx) => getBenchPlan(tx, world.deps.clock.now()));
  const lowerLegs = async () =>
    (await plan()).jobs.filter((one) => one.unit === 'F-1' && one.serviceKind === 'lower-leg').length;
  const sets = async () =>
    (await plan()).parts.find(({ part }) => part === 'fork lower-leg set')?.total.p50 ?? 0;
  expect(await lowerLegs()).toBe(1);
  const before = await sets();
  await choose();
  expect(await lowerLegs()).toBe(0);
  expect(await sets()).toBeGreaterThanOrEqual(before);
  const [kit] = (await kits()).toPickUp;
  await world.store.write((tx) => sayKit(tx, unitId, kit!.factId, 'picked-up', entry()));
  expect(await sets()).toBeLessThan(Math.max(1, before) + 1);
});

it('logged, its hours begin again as done at home, and nothing is left in any list', async () => {
  const { world, choose, log, kits, bad } = await homeWorld();
  await choose();
  expect(await log(WELL)).toEqual({ stop: [], soon: [] });
  const row = await world.flow.due('F-1', 'lower-leg');
  expect(row).toMatchObject({ terrainHoursSince: 0, state: 'in-time' });
  expect(await kits()).toEqual({ toPickUp: [], pickedUp: [] });
  expect(await bad()).toEqual([]);
  // Sent twice it is logged once.
  expect(await log(WELL)).toBeNull();
  await world.flow.expectSound();
});

it('a bad answer is first to be called and opens a booking, until it is here or the service is taken back', async () => {
  const { world, unitId, choose, log, bad, entry, now } = await homeWorld();
  await choose();
  await log({ ...WELL, stanchions: 'scratched' });
  expect(await bad()).toMatchObject([
    { tag: 'F-1', phone: '+000 555 0101', matters: { stop: [], soon: [['stanchions', 'scratched']] } },
  ]);
  await world.beat();
  expect(await world.lead('F-1')).toMatchObject({ state: 'open', serviceKind: 'lower-leg' });
  // Called: the booking stays open until it came.
  const [one] = await bad();
  await world.store.write((tx) => sayKit(tx, unitId, one!.factId, 'called', entry()));
  expect(await bad()).toEqual([]);
  await world.beat();
  expect(await world.lead('F-1')).toMatchObject({ state: 'open' });
  const subjects = await world.store.read((tx) => listSubjects(tx, now(), 'Europe/Lisbon', [unitId]));
  expect(subjects.find((subject) => subject.isBadAtHome)?.standing.serviceKind).toBe('lower-leg');
  const service = (await world.store.read((tx) => tx.facts.list('service', { subject: unitId }))).at(-1)!;
  await world.store.write((tx) => voidFact(tx, service.id, 'it was another fork', entry()));
  const after = await world.store.read((tx) => listSubjects(tx, now(), 'Europe/Lisbon', [unitId]));
  expect(after.some((subject) => subject.isBadAtHome)).toBe(false);
  await world.flow.expectSound();
});

it('what forbids riding sets the stop mark, and rider and workshop are told at once', async () => {
  const { world, choose, log, bad } = await homeWorld();
  await choose();
  await log({ ...WELL, leaks: 'runs' });
  expect(await world.flow.due('F-1', 'lower-leg')).toMatchObject({ state: 'stop-riding' });
  expect((await bad()).map(({ matters }) => matters.stop)).toEqual([[['leaks', 'runs']]]);
  const told = (await world.beat()).map(({ to }) => to.address).sort();
  expect(told).toEqual(['bench@example.org', 'r1@example.org']);
  await world.flow.expectSound();
});
