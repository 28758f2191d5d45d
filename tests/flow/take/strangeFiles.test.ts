/** Strange files as people hand them over, from the file to the hours of a fork. Invented throughout. */
import { describe, expect, it } from 'vitest';
import { answerTray } from '../../../src/flow/rides/answerTray.js';
import { listTray } from '../../../src/flow/rides/listTray.js';
import { gpxText, textBytes } from '../../fixtures/gpxFile.js';
import { journey, type Leg, recordingOf } from '../../fixtures/journey.js';
import { switchbacks, uneven } from '../../fixtures/readJourney.js';
import { DOCUMENT, FlowWorld } from '../flowWorld.js';

const NOW = '2025-07-01T12:00:00Z';
const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const TWO_BIKES = {
  ...DOCUMENT,
  bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r1', name: 'Bike two', type: 'trail' }],
  units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
  fittings: [...DOCUMENT.fittings, { unit: 'F-2', bike: 'b2', from: '2020-01-01' }],
};

const ride = (seconds: number): Leg => ({ seconds, mps: uneven(5), turn: switchbacks(70) });
const rest = (seconds: number): Leg => ({ seconds, mps: 0 });
/** With halts, so that it is known again. */
const LEGS: readonly Leg[] = [ride(700), rest(60), ride(500), rest(90), ride(900), rest(50), ride(500)];
const RIDDEN_H = 2600 / 3600;

interface Point {
  readonly lat: string;
  readonly lon: string;
  readonly ele: string;
  readonly time: number;
}

/** A point each five seconds, and so far north of the usual place. Units: degrees. */
function pointsOf(legs: readonly Leg[], startMs: number, north = 0): Point[] {
  const { samples } = recordingOf(journey(legs), { startMs });
  return Array.from({ length: samples.count }, (_, i) => i)
    .filter((i) => i % 5 === 0)
    .map((i) => ({
      lat: (samples.lat[i]! + north).toFixed(6),
      lon: samples.lon[i]!.toFixed(6),
      ele: samples.eleM[i]!.toFixed(1),
      time: samples.timeMs[i]!,
    }));
}
const fileOf = (...segments: readonly (readonly Point[])[]): Uint8Array =>
  textBytes(gpxText([{ type: 'cycling', segments: segments.map((one) => [...one]) }]));
const morning = (day: number): number => Date.UTC(2025, 5, day, 8);
const dayOf = (day: number): Uint8Array => fileOf(pointsOf(LEGS, morning(day)));

/** Twelve rides on a bike. */
async function season(document: object = DOCUMENT): Promise<FlowWorld> {
  const world = await FlowWorld.open(NOW, document);
  for (let day = 1; day <= 12; day++)
    await world.take(dayOf(day), { name: `${day}.gpx`, bike: 'b1', rule: 'subfolder' });
  return world;
}
const hoursOn = async (world: FlowWorld, unit = 'F-1'): Promise<number> =>
  (await world.due(unit)).movingHoursSince;
const asked = (world: FlowWorld) => world.deps.store.read((tx) => listTray(tx));

describe('twelve rides that count keep counting', () => {
  it('when a ride comes whose first five points carry a date of 2007', async () => {
    const world = await season();
    const before = await hoursOn(world);
    expect(before).toBeCloseTo(12 * RIDDEN_H, 1);
    const points = pointsOf(LEGS, morning(20)).map((point, i) =>
      i < 5 ? { ...point, time: point.time - 18 * 365 * DAY } : point,
    );
    expect(await world.take(fileOf(points), { bike: 'b1' })).toMatchObject({ outcome: 'counted' });
    expect(await hoursOn(world)).toBeCloseTo(13 * RIDDEN_H, 1);
    await world.expectSound();
  }, 120_000);

  it('when a track with a point each six hours over seven years comes', async () => {
    const world = await season();
    const before = await hoursOn(world);
    const points = pointsOf(LEGS, morning(1)).map((point, i) => ({
      ...point,
      time: morning(28) - 7 * 365 * DAY + i * 6 * HOUR,
    }));
    expect(await world.take(fileOf(points), { bike: 'b1' })).toMatchObject({
      outcome: 'no-ride',
      code: 'no-moving',
    });
    expect(await hoursOn(world)).toBe(before);
    await world.expectSound();
  }, 120_000);

  it('when a recorder was not stopped for 40 days, and then ridden with', async () => {
    const world = await season();
    const before = await hoursOn(world);
    const first = pointsOf([rest(600)], morning(1) - 20 * DAY);
    const last = pointsOf(LEGS, morning(20));
    expect(await world.take(fileOf([...first, ...last]), { bike: 'b1' })).toMatchObject({
      outcome: 'counted',
    });
    expect((await hoursOn(world)) - before).toBeCloseTo(RIDDEN_H, 1);
    expect(await asked(world)).toEqual([]);
    await world.expectSound();
  }, 120_000);

  it.each([30_000, 600_000, HOUR, 2 * HOUR, 5.5 * HOUR])(
    'when a copy comes whose clock is %d ms off',
    async (shift) => {
      const world = await season();
      const before = await hoursOn(world);
      const copy = pointsOf(LEGS, morning(5) - shift);
      const taken = await world.take(fileOf(copy), { name: 'copy.gpx', bike: 'b1', rule: 'subfolder' });
      expect(taken.outcome).toBe('joined');
      expect(Math.abs((await hoursOn(world)) / before - 1)).toBeLessThan(0.01);
      expect(await asked(world)).toEqual([]);
      await world.expectSound();
    },
    120_000,
  );
});

describe('whose and which', () => {
  it('the season as segments of one track, two bikes: each ride is asked by itself and charges one bike', async () => {
    const world = await FlowWorld.open(NOW, TWO_BIKES);
    const days = [1, 2, 3].map((day) => pointsOf(LEGS, morning(day)));
    expect(await world.take(fileOf(...days))).toMatchObject({ outcome: 'ask', code: 'which-bike' });
    const rows = await asked(world);
    expect(rows).toHaveLength(3);
    for (const [i, row] of rows.entries()) {
      const bikeId = await world.id('bike', i === 0 ? 'b1' : 'b2');
      await world.deps.store.write((tx) => answerTray(tx, row.id, { bikeId }, world.entry));
    }
    expect(await hoursOn(world, 'F-1')).toBeCloseTo(RIDDEN_H, 1);
    expect(await hoursOn(world, 'F-2')).toBeCloseTo(2 * RIDDEN_H, 1);
    await world.expectSound();
  }, 60_000);

  it('two riders on one bike at one time, 155 km apart: one waits, and nothing is joined', async () => {
    const riders = [...DOCUMENT.riders, { id: 'r2', name: 'Rider Two' }];
    const world = await FlowWorld.open(NOW, { ...DOCUMENT, riders });
    await world.take(fileOf(pointsOf(LEGS, morning(3))), { bike: 'b1' });
    const far = fileOf(pointsOf(LEGS.slice(0, 5), morning(3), 1.4));
    expect(await world.take(far, { rider: 'r2', bike: 'b1' })).toMatchObject({
      outcome: 'ask',
      code: 'two-places',
    });
    expect(await hoursOn(world)).toBeCloseTo(RIDDEN_H, 1);
    const [row] = await asked(world);
    await world.deps.store.write((tx) => answerTray(tx, row!.id, { ride: true }, world.entry));
    expect(await hoursOn(world)).toBeCloseTo(RIDDEN_H + 2100 / 3600, 1);
    await world.expectSound();
  });

  it('a bike chosen for a ride that counts from a folder is asked about; one that was guessed moves', async () => {
    const world = await FlowWorld.open(NOW, TWO_BIKES);
    await world.take(dayOf(1), { bike: 'b1', rule: 'subfolder' });
    expect(await world.take(dayOf(1), { bike: 'b2' })).toMatchObject({ outcome: 'ask', code: 'which-bike' });
    const one = await FlowWorld.open(NOW, { ...TWO_BIKES, fittings: DOCUMENT.fittings });
    expect(await one.take(dayOf(1))).toMatchObject({ outcome: 'counted', bikeRule: 'only-suspended' });
    expect(await one.take(dayOf(1), { bike: 'b2' })).toMatchObject({
      outcome: 'kept-only',
      changed: [{ tag: 'F-1', movingS: expect.any(Number) }],
    });
  });

  it('files known before, handed over again with a bike, count now and say so', async () => {
    const world = await FlowWorld.open(NOW, TWO_BIKES);
    expect(await world.take(dayOf(1))).toMatchObject({ outcome: 'ask', changed: [] });
    const again = await world.take(dayOf(1), { bike: 'b1' });
    expect(again.outcome).toBe('counts-now');
    expect(again.changed).toMatchObject([{ tag: 'F-1' }]);
    expect(again.changed[0]!.movingS / 3600).toBeCloseTo(RIDDEN_H, 1);
  });

  it('rides from before the fork was fitted are kept without a question, and count when that is entered', async () => {
    const world = await FlowWorld.open(NOW, {
      ...TWO_BIKES,
      fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-06-20' }],
    });
    expect(await world.take(dayOf(1))).toMatchObject({ outcome: 'kept-only', changed: [] });
    expect(await asked(world)).toEqual([]);
    await world.import({ fittings: [{ unit: 'F-2', bike: 'b2', from: '2025-05-01' }] });
    expect(await hoursOn(world, 'F-2')).toBeCloseTo(RIDDEN_H, 1);
    await world.expectSound();
  });
});

it('yes, no and yes again to whether it is a ride of its own: each comes to its own hours', async () => {
  const world = await FlowWorld.open(NOW);
  const plain = (startMs: number): Uint8Array => fileOf(pointsOf([ride(3600)], startMs, startMs % 7));
  await world.take(plain(morning(1)), { bike: 'b1' });
  const second = Uint8Array.from(plain(morning(1) + 50 * 60_000));
  await world.take(second, { name: 'second.gpx', bike: 'b1' });
  const [row] = await asked(world);
  expect(row).toBeDefined();
  let id = row!.id;
  const say = async (isOwn: boolean): Promise<number> => {
    const ride = await world.deps.store.write((tx) => answerTray(tx, id, { ride: isOwn }, world.entry));
    id = ride.id;
    return hoursOn(world);
  };
  const [own, same, again, sameAgain] = [
    await say(true),
    await say(false),
    await say(true),
    await say(false),
  ];
  expect(own).toBeCloseTo(2, 1);
  expect([again, sameAgain]).toEqual([own, same]);
  expect(same).toBeLessThan(own);
  await world.expectSound();
});
