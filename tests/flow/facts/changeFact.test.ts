/** What is put right, and what follows from it at once. */

import { describe, expect, it } from 'vitest';
import { readRow } from '../../../src/cli/importSchema.js';
import type { FactKind } from '../../../src/core/ledger/facts.js';
import { addFact, voidFact } from '../../../src/flow/facts/changeFact.js';
import { changedRow, correctFact, getFactRow } from '../../../src/flow/facts/correctFact.js';
import { addHours, addService, markUnit } from '../../../src/flow/facts/enterFacts.js';
import { answerTray } from '../../../src/flow/rides/answerTray.js';
import { listTray } from '../../../src/flow/rides/listTray.js';
import type { Taken } from '../../../src/flow/take/ingestFile.js';
import { day } from '../../../src/units.js';
import { allRides } from '../../fixtures/allRides.js';
import { inWords } from '../../fixtures/inWords.js';
import { DOCUMENT, FlowWorld, rideFile, WORKSHOP } from '../flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';
const WHY = 'it was put down wrong';

/** As the command does it: the row with the changes, through the schema. */
async function correct(world: FlowWorld, factId: string, changes: Record<string, unknown>): Promise<string> {
  return world.deps.store.write(async (tx) => {
    const fact = await getFactRow(tx, factId);
    const read = readRow(fact.kind, changedRow(fact, changes));
    if ('wrong' in read) throw new Error(JSON.stringify(read.wrong));
    return correctFact(tx, factId, { kind: fact.kind, row: read.row }, { ...world.entry, why: WHY });
  });
}

const factOf = (world: FlowWorld, kind: FactKind, index = 0): Promise<string> =>
  world.deps.store.read(async (tx) => (await tx.facts.list(kind))[index]!.id);

const makeVoid = (world: FlowWorld, factId: string) =>
  world.deps.store.write((tx) => voidFact(tx, factId, WHY, world.entry));

const hours = (on: string, minutes: number, ground = 'typical', bike = 'b1') => ({
  bike,
  on,
  minutes,
  ground,
});

describe('a bike', () => {
  it('of another type weighs its recorded rides anew, and not what was named by hand', async () => {
    const world = await FlowWorld.open(NOON, { ...DOCUMENT, hours: [hours('2025-06-01', 60)] });
    await world.take(rideFile('2025-06-10T08:00:00Z', 60));
    expect(await world.due('F-1')).toMatchObject({ movingHoursSince: 2, terrainHoursSince: 2 });
    await correct(world, await factOf(world, 'bike'), { type: 'road' });
    // Without elevation a road ride weighs 0.5 · 2^(ln 2 / ln(1/0.3)) = 0.7452 with the default weights.
    expect((await world.due('F-1')).terrainHoursSince).toBeCloseTo(1.7452, 4);
    await world.expectSound();
  });

  it('that joins a fleet may weigh more', async () => {
    const document = {
      ...DOCUMENT,
      fleets: [{ id: 't1', name: 'Team' }],
      weights: { smooth: 0.5, typical: 1, rough: 4 },
    };
    const world = await FlowWorld.open(NOON, { ...document, hours: [hours('2025-06-01', 60, 'rough')] });
    expect((await world.due('F-1')).terrainHoursSince).toBe(3);
    await correct(world, await factOf(world, 'bike'), { fleet: 't1' });
    expect((await world.due('F-1')).terrainHoursSince).toBe(4);
    await world.expectSound();
  });

  it('that comes to another rider takes its rides with it, by correction as by import', async () => {
    const riders = [...DOCUMENT.riders, { id: 'r2', name: 'Rider Two' }];
    const world = await FlowWorld.open(NOON, { ...DOCUMENT, riders });
    await world.take(rideFile('2025-06-10T08:00:00Z', 60), { rider: null, bike: 'b1' });
    const riderOf = () =>
      world.deps.store.read(async (tx) => (await allRides(tx)).map((ride) => ride.riderId));
    expect(await riderOf()).toEqual([await world.id('rider', 'r1')]);
    await correct(world, await factOf(world, 'bike'), { rider: 'r2' });
    expect(await riderOf()).toEqual([await world.id('rider', 'r2')]);
    const bikes = [{ ...DOCUMENT.bikes[0], rider: null }];
    await world.import({ bikes });
    expect(await riderOf()).toEqual([null]);
    await world.expectSound();
  });

  it('that is entered when its rider’s rides already came is found by them; two alike are asked about', async () => {
    const { fittings: _f, bikes: _b, ...rest } = DOCUMENT;
    const world = await FlowWorld.open(NOON, rest);
    await world.take(rideFile('2025-06-10T08:00:00Z', 60, { subSport: 'mountain' }));
    await world.import({ bikes: DOCUMENT.bikes, fittings: DOCUMENT.fittings });
    expect((await world.due('F-1')).movingHoursSince).toBe(1);
    await world.expectSound();
    await world.import({ bikes: [{ ...DOCUMENT.bikes[0], id: 'b2' }] });
    expect(await world.deps.store.read(listTray)).toMatchObject([{ code: 'which-bike' }]);
    await world.expectSound();
    await makeVoid(world, await factOf(world, 'bike', 1));
    expect((await world.due('F-1')).movingHoursSince).toBe(1);
    await world.expectSound();
  });

  it('with rides, hours or fittings is not made void; a workshop keeps its name', async () => {
    const world = await FlowWorld.open(NOON);
    const bike = await factOf(world, 'bike');
    await expect(inWords(makeVoid(world, bike))).rejects.toThrow(/depends on it: a fitting \(fact /);
    await makeVoid(world, await factOf(world, 'fitting'));
    await world.take(rideFile('2025-06-10T08:00:00Z', 60), { bike: 'b1' });
    await expect(inWords(makeVoid(world, bike))).rejects.toThrow(/1 rides; move them/);
    await expect(inWords(correct(world, await factOf(world, 'workshop'), { id: 'w9' }))).rejects.toThrow(
      /keeps the name "w1"/,
    );
    await world.expectSound();
  });
});

describe('a fitting', () => {
  it('put right moves its rides, and its bike’s rider may find the bike by it', async () => {
    const document = {
      ...DOCUMENT,
      bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r1', name: 'Bike two', type: 'road' }],
    };
    const world = await FlowWorld.open(NOON, document);
    await world.take(rideFile('2025-06-10T08:00:00Z', 60));
    expect((await world.due('F-1')).movingHoursSince).toBe(1);
    const fitting = await correct(world, await factOf(world, 'fitting'), { from: '2025-06-10T08:00:01Z' });
    expect((await world.due('F-1')).movingHoursSince).toBe(0);
    // The only suspended bike is another one now, so the ride finds that.
    const again = await correct(world, fitting, { bike: 'b2', from: '2025-06-10' });
    expect(await world.due('F-1')).toMatchObject({ movingHoursSince: 1, bike: 'b2' });
    await world.expectSound();
    await makeVoid(world, again);
    // No bike had a unit then, so there is nothing to ask.
    expect(await world.deps.store.read(listTray)).toEqual([]);
    await world.expectSound();
  });

  it('that would leave a service before the unit came is refused', async () => {
    const services = [{ unit: 'F-1', serviceKind: 'full', on: '2025-01-10' }];
    const world = await FlowWorld.open(NOON, { ...DOCUMENT, services });
    await expect(
      inWords(correct(world, await factOf(world, 'fitting'), { from: '2025-02-01' })),
    ).rejects.toThrow(/F-1 came new on 2025-02-01; it cannot have been serviced on 2025-01-10/);
    expect((await world.due('F-1')).bike).toBe('b1');
  });
});

describe('an answer', () => {
  const world = async (): Promise<FlowWorld> =>
    FlowWorld.open(NOON, {
      ...DOCUMENT,
      bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r1', name: 'Bike two', type: 'trail' }],
      units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
      fittings: [...DOCUMENT.fittings, { unit: 'F-2', bike: 'b2', from: '2020-01-01' }],
    });

  it('put right or taken back moves the hours, and what its sensor taught', async () => {
    const one = await world();
    const sensors = [{ id: 'power 77', boundTo: 'bike' as const }] as never;
    const rides = ['2025-06-10T08:00:00Z', '2025-06-11T08:00:00Z', '2025-06-12T08:00:00Z'];
    const taken: Taken[] = [];
    for (const start of rides) taken.push(await one.take(rideFile(start, 60, { sensors })));
    const answer = async (i: number): Promise<void> => {
      const bikeId = await one.id('bike', 'b1');
      await one.deps.store.write((tx) => answerTray(tx, taken[i]!.rides[0]!, { bikeId }, one.entry));
    };
    await answer(0);
    await answer(1);
    expect((await one.due('F-1')).movingHoursSince).toBe(3);
    const moved = await correct(one, await factOf(one, 'answer', 1), { bike: 'b2' });
    expect([(await one.due('F-1')).movingHoursSince, (await one.due('F-2')).movingHoursSince]).toEqual([
      1, 1,
    ]);
    await one.expectSound();
    await correct(one, moved, { bike: 'b1' });
    expect((await one.due('F-1')).movingHoursSince).toBe(3);
    await makeVoid(one, await factOf(one, 'answer', 0));
    // One confirmation is too few: both rides that it taught wait again.
    expect((await one.due('F-1')).movingHoursSince).toBe(1);
    expect(await one.deps.store.read(listTray)).toHaveLength(2);
    await one.expectSound();
  });
});

describe('the workshop', () => {
  it('in another time zone counts its days anew', async () => {
    const services = [{ unit: 'F-1', serviceKind: 'full', on: '2025-06-11' }];
    const world = await FlowWorld.open(NOON, { ...DOCUMENT, services, hours: [hours('2025-06-11', 30)] });
    // 23:30 on the 10th in Lisbon, the 11th in Helsinki.
    await world.take(rideFile('2025-06-10T22:30:00Z', 60));
    expect((await world.due('F-1')).movingHoursSince).toBe(0.5);
    await correct(world, await factOf(world, 'workshop'), { timeZone: 'Europe/Helsinki' });
    expect((await world.due('F-1')).movingHoursSince).toBe(1.5);
    await world.expectSound();
  });

  it('with other notice days recounts every unit', async () => {
    const weekly = Array.from({ length: 20 }, (_, i) => {
      const on = new Date(Date.parse('2025-06-16') - i * 7 * 86_400_000).toISOString().slice(0, 10);
      return hours(on, 120);
    });
    const world = await FlowWorld.open(NOON, {
      ...DOCUMENT,
      hours: weekly,
      fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-01-01' }],
    });
    const state = async (): Promise<string> => (await world.due('F-1')).state;
    expect(await state()).toBe('in-time');
    await world.import({ workshop: { ...WORKSHOP, noticeDays: 80 } });
    expect(await state()).toBe('coming-up');
    await world.expectSound();
  });
});

describe('a mark', () => {
  it('put right later does not become the last word', async () => {
    const world = await FlowWorld.open(NOON);
    const unitId = await world.id('unit', 'F-1');
    const stop = await world.deps.store.write((tx) => markUnit(tx, unitId, true, 'hit a wall', world.entry));
    await world.deps.store.write((tx) => markUnit(tx, unitId, false, 'seen', world.entry));
    await correct(world, stop, { why: 'hit a gate' });
    // Fitted in 2020 and never serviced: without the mark it is the months that speak.
    expect((await world.due('F-1')).state).toBe('over-interval');
    await makeVoid(world, await factOf(world, 'mark', 1));
    expect((await world.due('F-1')).state).toBe('stop-riding');
    await world.expectSound();
  });
});

describe('a service kind of the workshop’s own', () => {
  const serviceKinds = [{ unitKind: 'fork', name: 'seal-check', terrainHours: 5, benchMinutes: 15 }];

  it('stands beside the built-in ones, and a full service restarts it', async () => {
    const world = await FlowWorld.open(NOON, {
      ...DOCUMENT,
      serviceKinds,
      // So long ago that what is foreseen leaves no doubt.
      hours: [hours('2025-01-15', 360)],
    });
    expect(await world.due('F-1', 'seal-check')).toMatchObject({ state: 'due', movingHoursSince: 6 });
    const service = (serviceKind: string) => ({
      unitId: '',
      serviceKind,
      on: day('2025-06-02'),
      by: 'here' as const,
      findings: null,
      note: null,
    });
    const unitId = await world.id('unit', 'F-1');
    await world.deps.store.write((tx) => addService(tx, { ...service('full'), unitId }, world.entry));
    expect(await world.due('F-1', 'seal-check')).toMatchObject({ state: 'in-time', movingHoursSince: 0 });
    await world.expectSound();
    await expect(inWords(makeVoid(world, await factOf(world, 'serviceKind')))).rejects.toThrow(
      /depends on it: a service \(fact /,
    );
    await makeVoid(world, await factOf(world, 'service'));
    await makeVoid(world, await factOf(world, 'serviceKind'));
    expect(await world.due('F-1', 'seal-check')).toBeUndefined();
    await world.expectSound();
  });

  it('keeps off names that are taken, and its own name', async () => {
    const world = await FlowWorld.open(NOON, { ...DOCUMENT, serviceKinds });
    for (const name of ['full', 'wipers-only'])
      await expect(inWords(world.import({ serviceKinds: [{ unitKind: 'fork', name }] }))).rejects.toThrow(
        /already/,
      );
    await expect(
      inWords(correct(world, await factOf(world, 'serviceKind'), { name: 'other' })),
    ).rejects.toThrow(/of "[^"]+" cannot be changed/);
  });
});

describe('what else is put right', () => {
  it('hours that were ridden on another bike or day', async () => {
    const world = await FlowWorld.open(NOON, { ...DOCUMENT, hours: [hours('2025-06-01', 60)] });
    const fact = await correct(world, await factOf(world, 'hours'), { minutes: 90, ground: 'smooth' });
    expect(await world.due('F-1')).toMatchObject({ movingHoursSince: 1.5, terrainHoursSince: 0.75 });
    await expect(inWords(correct(world, fact, { on: '2025-06-19' }))).rejects.toThrow(/in the future/);
    await makeVoid(world, fact);
    expect((await world.due('F-1')).movingHoursSince).toBe(0);
    await world.expectSound();
  });

  it('a unit’s factor, warranty and history; its kind only while it has no book', async () => {
    const world = await FlowWorld.open(NOON, { ...DOCUMENT, hours: [hours('2025-06-01', 60)] });
    let fact = await correct(world, await factOf(world, 'unit'), { factor: 1.5, warrantyEnd: '2026-01-01' });
    expect(await world.due('F-1')).toMatchObject({
      terrainHoursSince: 1.5,
      interval: { movingHoursCeiling: 50 },
    });
    fact = await correct(world, fact, { history: 'unknown' });
    expect((await world.due('F-1')).state).toBe('history-unknown');
    fact = await correct(world, fact, { history: { terrainHours: 30, movingHours: 20, asOf: '2025-06-02' } });
    expect((await world.due('F-1')).terrainHoursSince).toBe(30);
    await expect(inWords(correct(world, fact, { unitKind: 'air-shock' }))).rejects.toThrow(
      /fittings or services as a fork/,
    );
    await makeVoid(world, await factOf(world, 'fitting'));
    await correct(world, fact, { unitKind: 'air-shock' });
    expect((await world.due('F-1', 'air-sleeve')).unitKind).toBe('air-shock');
    await world.expectSound();
  });

  it('an interval, a race, a fleet, a part, what lies on the shelf, and how to reach a rider', async () => {
    const scope = { fleet: null, model: null, unit: null };
    const world = await FlowWorld.open(NOON, {
      ...DOCUMENT,
      fleets: [{ id: 't1', name: 'Team' }],
      intervals: [{ unitKind: 'fork', serviceKind: 'lower-leg', scope, terrainHours: 40 }],
      races: [{ id: 'x1', name: 'Race', on: '2025-07-01', bikes: ['b1'] }],
      parts: [{ unitKind: 'fork', serviceKind: 'lower-leg', part: 'foam ring', count: 2 }],
      shelf: [{ part: 'foam ring', count: 9 }],
    });
    const bodies = async (kind: FactKind) =>
      world.deps.store.read(async (tx) => (await tx.facts.list(kind)).map((fact) => fact.body));
    await correct(world, await factOf(world, 'interval'), { terrainHours: 60 });
    expect((await world.due('F-1')).interval.terrainHours).toBe(60);
    await makeVoid(world, await factOf(world, 'interval'));
    expect((await world.due('F-1')).interval.terrainHours).toBe(50);
    await correct(world, await factOf(world, 'race'), { on: '2025-07-02' });
    expect(await bodies('race')).toMatchObject([{ on: '2025-07-02', handle: 'x1' }]);
    await correct(world, await factOf(world, 'fleet'), { name: 'Team Two' });
    expect(await bodies('fleet')).toEqual([{ handle: 't1', name: 'Team Two' }]);
    await correct(world, await factOf(world, 'part'), { count: 3 });
    expect(await bodies('part')).toMatchObject([{ count: 3 }]);
    await correct(world, await factOf(world, 'shelf'), { count: 8 });
    expect(await bodies('shelf')).toMatchObject([{ count: 8 }]);
    await correct(world, await factOf(world, 'rider'), { email: 'new@example.org', addressConfirmed: null });
    const contact = await world.deps.store.read((tx) => tx.contacts.list());
    expect(contact).toMatchObject([{ email: 'new@example.org', confirmedAt: null }]);
    expect(JSON.stringify(await bodies('rider'))).not.toContain('example.org');
    await world.expectSound();
  });

  it('two rules of one scope cannot stand, nor can what says the same already', async () => {
    const rule = { unitKind: 'fork', serviceKind: 'lower-leg', terrainHours: 40 };
    const world = await FlowWorld.open(NOON, {
      ...DOCUMENT,
      intervals: [rule, { ...rule, serviceKind: 'damper' }],
    });
    await expect(
      inWords(correct(world, await factOf(world, 'interval'), { serviceKind: 'damper' })),
    ).rejects.toThrow(/already have an interval for this service \(fact /);
    await expect(inWords(correct(world, await factOf(world, 'interval'), {}))).rejects.toThrow(
      /what it says already/,
    );
  });

  it('what refers to a void unit or bike is refused', async () => {
    const world = await FlowWorld.open(NOON, {
      ...DOCUMENT,
      units: [...DOCUMENT.units, { tag: 'F-9', unitKind: 'fork' }],
    });
    const unitId = await world.id('unit', 'F-9');
    await makeVoid(world, await factOf(world, 'unit', 1));
    await expect(
      inWords(world.import({ services: [{ unit: 'F-9', serviceKind: 'full', on: '2025-06-01' }] })),
    ).rejects.toThrow(/There is no unit "F-9"/);
    const body = { unitId, bikeId: await world.id('bike', 'b1'), from: day('2025-06-01'), to: null };
    await expect(
      inWords(world.deps.store.write((tx) => addFact(tx, { kind: 'fitting', body }, world.entry))),
    ).rejects.toMatchObject({ code: 'not-found' });
    const gone = { bikeId: 'none', on: day('2025-06-01'), minutes: 9, ground: 'rough' as const, note: null };
    await expect(
      inWords(world.deps.store.write((tx) => addHours(tx, gone, world.entry))),
    ).rejects.toMatchObject({
      code: 'not-found',
    });
    await world.expectSound();
  });
});
