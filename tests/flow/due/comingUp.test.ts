/** What comes up stays so until its period ends or a fact takes the reason away; unknown days are not rest. */
import { describe, expect, it } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { addService, markUnit, setInterval } from '../../../src/flow/facts/enterFacts.js';
import { listCalls, sayTold } from '../../../src/flow/mail/listCalls.js';
import { type Day, day } from '../../../src/units.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

const START = day('2025-03-01');
/** The sixth hour is gone at a ride a week by early April; some five hours left are near of twenty. */
const TWENTY_HOURS = {
  ...DOCUMENT,
  workshop: { ...DOCUMENT.workshop, remindersFrom: '2020-01-01' },
  fittings: [{ unit: 'F-1', bike: 'b1', from: START }],
  intervals: [{ unitKind: 'fork', serviceKind: 'lower-leg', terrainHours: 20 }],
};

const at = (on: Day, time = '09:00') => `${on}T${time}:00Z`;

/** Rides two hours every third day from the start, and hands each ride over on its evening. */
async function ridden(days: number, document: object = TWENTY_HOURS): Promise<FlowWorld> {
  const world = await FlowWorld.open(at(START, '07:00'), document);
  for (let i = 0; i < days; i += 3) await ride(world, addDays(START, i));
  return world;
}

async function ride(world: FlowWorld, on: Day, handedOver = on): Promise<void> {
  world.now = at(handedOver, '18:00');
  await world.take(rideFile(at(on), 120), { bike: 'b1', name: `${on}.fit` });
}

const facts = (world: FlowWorld) =>
  world.deps.store.read(async (tx) => (await tx.facts.list('comingUp')).map((fact) => fact.body));
const lowerLeg = async (world: FlowWorld) =>
  (await facts(world)).filter((body) => body.serviceKind === 'lower-leg').map(({ on }) => on);

describe('coming up', () => {
  it('is a fact of its first day, and holds while the rider rests and the date moves away', async () => {
    const world = await ridden(25);
    expect((await world.due('F-1')).state).toBe('coming-up');
    const first = await lowerLeg(world);
    expect(first).toHaveLength(1);
    const middle = (await world.due('F-1')).likely.p50!;
    world.now = at(addDays(START, 200));
    const later = await world.due('F-1');
    expect(later.likely.p50! > middle).toBe(true);
    expect(later.state).toBe('coming-up');
    expect(await lowerLeg(world)).toEqual(first);
    await world.expectSound();
  });

  it('is told once and repeated once, however the date moves', async () => {
    const world = await ridden(25);
    const mails: string[] = [];
    for (let i = 25; i < 120; i++) {
      world.now = at(addDays(START, i), '08:00');
      mails.push(...(await world.mail()).filter((mail) => mail.startsWith('r1@')));
    }
    const reminders = mails.filter((mail) => mail.includes('lower-leg'));
    expect(reminders).toHaveLength(2);
  });

  it('is taken back by a longer interval, and is a new fact when it returns', async () => {
    const world = await ridden(25);
    await world.due('F-1');
    const first = await lowerLeg(world);
    const hours = (terrainHours: number) =>
      world.deps.store.write((tx) =>
        setInterval(
          tx,
          {
            unitKind: 'fork',
            serviceKind: 'lower-leg',
            scope: { fleetId: null, model: null, unitId: null },
            terrainHours,
            months: null,
            movingHoursCeiling: null,
          },
          'test',
          world.entry.at,
        ),
      );
    world.now = at(addDays(START, 26));
    await hours(400);
    expect((await world.due('F-1')).state).toBe('in-time');
    expect(await lowerLeg(world)).toEqual([]);
    await world.expectSound();
    world.now = at(addDays(START, 27));
    await hours(20);
    expect((await world.due('F-1')).state).toBe('coming-up');
    expect(await lowerLeg(world)).toEqual([addDays(START, 27)]);
    expect(first).not.toEqual([addDays(START, 27)]);
    await world.expectSound();
  });

  it('ends with its service period', async () => {
    const world = await ridden(25);
    await world.due('F-1');
    const unitId = await world.id('unit', 'F-1');
    world.now = at(addDays(START, 26));
    const service = { unitId, serviceKind: 'lower-leg', on: addDays(START, 26), by: 'here' as const };
    await world.deps.store.write((tx) =>
      addService(tx, { ...service, findings: null, note: null }, world.entry),
    );
    expect((await world.due('F-1')).state).toBe('in-time');
    await world.expectSound();
  });
});

describe('files that come late', () => {
  it('are expected: the days since are unknown, and their hours enter dates and no sum', async () => {
    const world = await FlowWorld.open(at(START, '07:00'), DOCUMENT);
    // Every other day an hour; handed over on Saturdays.
    for (let week = 1; week <= 8; week++)
      for (const ago of [6, 4, 2]) {
        const saturday = addDays(START, 7 * week);
        await ride(world, addDays(saturday, -ago), saturday);
      }
    const last = addDays(START, 56);
    world.now = at(last, '20:00');
    const known = await world.due('F-1');
    expect(known).toMatchObject({ knownUpTo: last, expectedHoursSince: 0 });
    world.now = at(addDays(last, 5));
    const later = await world.due('F-1');
    expect(later.knownUpTo).toBe(last);
    expect(later.terrainHoursSince).toBe(known.terrainHoursSince);
    // Six hours a week; five days of them.
    expect(later.expectedHoursSince).toBeGreaterThan(2);
    expect(later.expectedHoursSince).toBeLessThan(6);
    // Whoever hands over within six days and has not for weeks is resting.
    world.now = at(addDays(last, 30));
    expect((await world.due('F-1')).knownUpTo).toBe(addDays(last, 24));
    await world.expectSound();
  });

  it('say how far the rider’s other bike is known', async () => {
    const world = await FlowWorld.open(at(START, '07:00'), {
      ...DOCUMENT,
      bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r1', name: 'Bike two', type: 'trail' }],
      units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
      fittings: [...DOCUMENT.fittings, { unit: 'F-2', bike: 'b2', from: '2020-01-01' }],
    });
    await ride(world, START);
    await world.due('F-1');
    const on = addDays(START, 5);
    await ride(world, on);
    expect((await world.due('F-2')).knownUpTo).toBe(on);
    await world.expectSound();
  });
});

describe('a rider whom no mail reaches', () => {
  const noAddress = { ...TWENTY_HOURS, riders: [{ id: 'r1', name: 'Rider One', phone: '123' }] };
  const calls = (world: FlowWorld) =>
    world.deps.store.read(async (tx) =>
      (await listCalls(tx, world.entry.at)).map(({ unit, serviceKind, state, phone, reason }) =>
        [unit, serviceKind, state, phone, reason].join(' '),
      ),
    );

  it('stands in the list until somebody says told, and again when it is worse', async () => {
    const world = await ridden(25, noAddress);
    const unitId = await world.id('unit', 'F-1');
    await world.due('F-1');
    expect(await calls(world)).toEqual(['F-1 lower-leg coming-up 123 no-address']);
    await world.deps.store.write((tx) => sayTold(tx, unitId, 'lower-leg', world.entry));
    expect(await calls(world)).toEqual([]);
    for (let i = 27; i < 36; i += 3) await ride(world, addDays(START, i));
    await world.due('F-1');
    expect(await calls(world)).toEqual(['F-1 lower-leg due 123 no-address']);
    await world.expectSound();
  });

  it('stands first with a crash mark', async () => {
    const world = await ridden(25, noAddress);
    const unitId = await world.id('unit', 'F-1');
    await world.deps.store.write((tx) => markUnit(tx, unitId, true, 'crack', world.entry));
    await world.due('F-1');
    expect((await calls(world))[0]).toMatch(/ stop-riding 123 no-address$/);
    await world.deps.store.write((tx) => sayTold(tx, unitId, 'full', world.entry));
    expect(await calls(world)).toEqual([]);
  });

  it('has nothing to be told in time', async () => {
    const world = await FlowWorld.open(at(START, '07:00'), noAddress);
    const unitId = await world.id('unit', 'F-1');
    await world.due('F-1');
    await expect(
      world.deps.store.write((tx) => sayTold(tx, unitId, 'lower-leg', world.entry)),
    ).rejects.toMatchObject({ code: 'refused' });
  });
});
