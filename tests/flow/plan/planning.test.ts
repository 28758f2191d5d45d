import { describe, expect, test } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { WEEKS_SHOWN } from '../../../src/core/plan/weeksShown.js';
import type { BookingStep } from '../../../src/core/tokens.js';
import { getTeaching } from '../../../src/flow/due/ringsSeen.js';
import { benchUnit } from '../../../src/flow/facts/jobs.js';
import { getBenchPlan } from '../../../src/flow/plan/benchPlan.js';
import { getDayPlan } from '../../../src/flow/plan/dayPlan.js';
import { listRacePlans } from '../../../src/flow/plan/racePlan.js';
import { bookedFact } from '../../fixtures/booked.js';
import { planDocument } from '../../web/planWorld.js';
import { DOCUMENT, NOW, TODAY, type WebWorld, webWorld } from '../../web/webWorld.js';

const entry = { by: 'owner', at: NOW };
const plan = ({ store }: WebWorld) => store.read((tx) => getBenchPlan(tx, NOW));
const lead = ({ store }: WebWorld, tag: string, step: BookingStep, on: string | null) =>
  bookedFact(store, tag, { step, on, at: NOW });
/** 45 of 50 hours are ridden on F-0001, three more each week. */
const jobsOf = async (world: WebWorld, tag: string) =>
  (await plan(world)).jobs.filter((job) => job.unit === tag);

describe('the bench plan', () => {
  test('a rider who is reminded comes by the response share; a bike without a rider is brought', async () => {
    const world = await webWorld({ document: planDocument(DOCUMENT) });
    const [own] = await jobsOf(world, 'F-0001');
    expect([own]).toMatchObject([{ serviceKind: 'lower-leg', response: 0.5, isBooked: false, minutes: 60 }]);
    expect(own!.dueBy).toHaveLength(WEEKS_SHOWN);
    expect(own!.dueBy.at(-1)).toBeGreaterThan(0.5);
    expect((await jobsOf(world, 'F-0503'))[0]).toMatchObject({
      response: 1,
      dueBy: [1, 1, 1, 1, 1, 1, 1, 1],
    });
    expect(await jobsOf(world, 'F-0003')).toEqual([]);
  });

  test('the workshop sets the share', async () => {
    const workshop = { ...DOCUMENT.workshop, responseShare: 0.8 };
    const world = await webWorld({ document: { ...DOCUMENT, workshop } });
    expect((await jobsOf(world, 'F-0001'))[0]).toMatchObject({ response: 0.8 });
  });

  test('a booked unit counts once, in the week of its day', async () => {
    const world = await webWorld({ document: DOCUMENT });
    await lead(world, 'F-0001', 'booked', addDays(TODAY, 7));
    expect(await jobsOf(world, 'F-0001')).toMatchObject([
      { isBooked: true, response: 1, dueBy: [0, 1, 1, 1, 1, 1, 1, 1] },
    ]);
  });

  test('what the rider declined in this service period is not expected', async () => {
    const world = await webWorld({ document: DOCUMENT });
    await lead(world, 'F-0001', 'not-wanted', null);
    expect((await jobsOf(world, 'F-0001')).map((job) => job.serviceKind)).not.toContain('lower-leg');
  });

  test('what lies at the workshop is part of the week, once, also where its history is unknown', async () => {
    const world = await webWorld({ document: DOCUMENT });
    await lead(world, 'F-0001', 'booked', TODAY);
    await world.store.write(async (tx) => {
      for (const tag of ['F-0001', 'F-0003'])
        await benchUnit(tx, (await tx.handles.find('unit', tag))!, true, entry);
    });
    const every = Array.from({ length: 8 }, () => 1);
    expect(await jobsOf(world, 'F-0001')).toMatchObject([
      { serviceKind: 'lower-leg', minutes: 60, response: 1, dueBy: every },
    ]);
    expect(await jobsOf(world, 'F-0003')).toMatchObject([
      { serviceKind: 'full', minutes: 150, dueBy: every },
    ]);
    const { weeks, leftOut } = await plan(world);
    expect(weeks[0]!.minutes.mean).toBeGreaterThanOrEqual(210);
    expect(leftOut.onTheBench).toBe(0);
  });

  test('says what it leaves out', async () => {
    const world = await webWorld({ document: planDocument(DOCUMENT) });
    await world.store.write(async (tx) =>
      benchUnit(tx, (await tx.handles.find('unit', 'F-0002'))!, true, entry),
    );
    expect((await plan(world)).leftOut).toEqual({
      onTheBench: 0,
      stopRiding: 0,
      historyUnknown: 1,
      boxed: 1,
    });
  });
});

describe('the day', () => {
  test('a unit on the bench stands on it, also where nothing of it is due', async () => {
    const world = await webWorld({ document: planDocument(DOCUMENT) });
    await world.store.write(async (tx) => {
      for (const tag of ['F-0002', 'F-0503'])
        await benchUnit(tx, (await tx.handles.find('unit', tag))!, true, entry);
    });
    const { jobs } = await world.store.read((tx) => getDayPlan(tx, NOW));
    expect(jobs.map(({ one, reason, serviceKind }) => [one.unit.tag, reason, serviceKind])).toEqual([
      ['F-0503', 'on-the-bench', 'lower-leg'],
      ['F-0002', 'on-the-bench', 'lower-leg'],
      ['F-0501', 'race', 'lower-leg'],
    ]);
  });
});

describe('races', () => {
  test('a bike’s hours weigh as its own recent rides do', async () => {
    const base = planDocument(DOCUMENT);
    const rough = { bike: 'x2', on: addDays(TODAY, -10), minutes: 60, ground: 'rough' };
    const world = await webWorld({ document: { ...base, hours: [...base.hours, rough] } });
    const [race] = await world.store.read((tx) => listRacePlans(tx, NOW));
    const unit = race!.bikes.find(({ bike }) => bike.handle === 'x2')!.units[0]!;
    // Eight typical hours and a rough one, which weighs 2.
    expect([unit.weight, unit.rides]).toEqual([10 / 9, 2]);
  });

  test('one that has been is no longer planned', async () => {
    const base = planDocument(DOCUMENT);
    const races = [{ id: 'past', name: 'Past race', on: addDays(TODAY, -1), bikes: ['x1'] }];
    const world = await webWorld({ document: { ...base, races } });
    expect(await world.store.read((tx) => listRacePlans(tx, NOW))).toEqual([]);
  });
});

test('a look at rings of unknown age cannot be used, and is counted by reason', async () => {
  const base = planDocument(DOCUMENT, 2);
  const service = (unit: string, rest: object) => ({
    unit,
    serviceKind: 'lower-leg',
    on: '2026-05-20',
    findings: { foamRings: 'dark' },
    ...rest,
  });
  const services = [
    ...base.services,
    // Its history is unknown, so nobody knows how long its rings had been in.
    service('F-0003', {}),
    // Nobody recorded a ride before it.
    service('F-0002', { on: '2026-05-02' }),
    // Seen and put back: the rings go on; then somebody looked and said neither word, so the next look teaches nothing.
    service('F-0001', { on: '2026-05-10', findings: { foamRings: 'honey', foamRingsNow: 'put-back' } }),
    service('F-0001', { on: '2026-05-20' }),
    service('F-0001', { on: '2026-06-01' }),
  ];
  const { store } = await webWorld({ document: { ...base, services } });
  expect(await store.read((tx) => getTeaching(tx, NOW))).toMatchObject({
    services: 8,
    unusable: 3,
    unusableBy: { 'never-new': 1, 'not-said': 1, 'not-ridden': 1 },
  });
});
