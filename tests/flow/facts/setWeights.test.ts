/** What an hour weighs by its ground: changed for every ride, from what is stored of it. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keptReading } from '../../../src/core/ground/samples/reading.js';
import type { Weights } from '../../../src/core/ledger/ledger.js';
import { refreshAllDue } from '../../../src/flow/due/refreshDue.js';
import { changedStates, previewWeights, setWeights } from '../../../src/flow/facts/setWeights.js';
import { settleReadings } from '../../../src/flow/rides/settleReadings.js';
import { instant } from '../../../src/units.js';
import { inWords } from '../../fixtures/inWords.js';
import { plainReading } from '../../fixtures/plainReading.js';
import { DOCUMENT, FlowWorld } from '../flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';
const AT = Date.parse(NOON);
const DAY = 86_400_000;

/** Weekly rides on b1 over ground of every roughness, some of it badly known, and hours by hand on b2. */
async function open(): Promise<FlowWorld> {
  const world = await FlowWorld.open(NOON, {
    ...DOCUMENT,
    fleets: [{ id: 't1', name: 'Team' }],
    bikes: [...DOCUMENT.bikes, { id: 'b2', fleet: 't1', name: 'Bike two', type: 'gravity' }],
    units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
    fittings: [
      { unit: 'F-1', bike: 'b1', from: '2025-01-01' },
      { unit: 'F-2', bike: 'b2', from: '2025-01-01' },
    ],
    hours: Array.from({ length: 12 }, (_, i) => ({
      bike: 'b2',
      on: new Date(AT - (2 + i * 7) * DAY).toISOString().slice(0, 10),
      minutes: 100,
      ground: ['smooth', 'typical', 'rough'][i % 3],
    })),
  });
  const bikeId = await world.id('bike', 'b1');
  await world.deps.store.write(async (tx) => {
    for (let i = 0; i < 12; i++) {
      const file = await tx.files.add({
        sha256: `${i}`,
        bytes: 1,
        riderId: null,
        outcome: 'ride',
        code: null,
        reason: null,
      });
      const at = world.entry.at;
      await tx.files.addArrival({
        fileId: file.id,
        name: 'a',
        riderId: null,
        bikeId,
        rule: 'chosen',
        at,
        way: null,
        afterFact: 0,
      });
      const classS = new Array(16).fill(0).map((_, k) => (k > i && k < i + 4 ? 2000 : 0));
      const terrain = {
        classS,
        quality: i % 4 === 0 ? null : i / 12,
        witnessWeight: 0.5,
        witness: 0.2,
        gradientChange: null,
        noiseM: null,
      };
      const reading = plainReading(instant(AT - (1 + i * 7) * DAY), 6000, { terrain, indoor: i === 5 });
      const { id } = await tx.readings.add(file.id, 0, keptReading(reading));
      await settleReadings(tx, [id], at);
    }
  });
  return world;
}

const set = (world: FlowWorld, weights: Weights) =>
  world.deps.store.write((tx) => setWeights(tx, weights, world.entry));

describe('other weights', () => {
  it('weigh every ride as settling it again would, without opening a reading', async () => {
    const world = await open();
    const number = fc.integer({ min: 5, max: 40 }).map((tenths) => tenths / 10);
    await fc.assert(
      fc.asyncProperty(fc.array(number, { minLength: 3, maxLength: 3 }), async (values) => {
        const [smooth, typical, rough] = values.sort((a, b) => a - b) as [number, number, number];
        await set(world, { smooth, typical, rough });
        // `check` settles all readings again and compares.
        await world.expectSound();
      }),
      { numRuns: 8 },
    );
  });

  it('change the hours by what the ground weighs', async () => {
    const world = await open();
    // Four rides each on smooth, typical and rough ground, 100 minutes each.
    expect((await world.due('F-2')).terrainHoursSince).toBeCloseTo((400 / 60) * (0.5 + 1 + 2), 3);
    await set(world, { smooth: 1, typical: 1, rough: 4 });
    expect((await world.due('F-2')).terrainHoursSince).toBeCloseTo((400 / 60) * (1 + 1 + 4), 3);
    expect((await world.due('F-2')).movingHoursSince).toBe(20);
  });

  it('are told beforehand: a preview names what saving then changes', async () => {
    const world = await open();
    const { store } = world.deps;
    const unitIds = [await world.id('unit', 'F-1'), await world.id('unit', 'F-2')];
    let count = 0;
    for (const weights of [
      { smooth: 0.5, typical: 0.5, rough: 0.5 },
      { smooth: 2, typical: 3, rough: 4 },
      { smooth: 1, typical: 1.5, rough: 3 },
    ]) {
      await refreshAllDue(world.deps);
      const promised = [];
      for (const unitId of unitIds)
        promised.push(...(await store.read((tx) => previewWeights(tx, unitId, weights, world.entry.at))));
      const before = await store.read((tx) => tx.standings.list());
      await set(world, weights);
      await refreshAllDue(world.deps);
      const tags = new Map([
        [unitIds[0]!, 'F-1'],
        [unitIds[1]!, 'F-2'],
      ]);
      const changed = changedStates(tags, before, await store.read((tx) => tx.standings.list()));
      const named = (all: typeof changed) => all.map((one) => JSON.stringify(one)).sort();
      expect(named(promised)).toEqual(named(changed));
      count += changed.length;
    }
    // Ground that weighs 2 to 4 makes a fork due; as much less takes it back.
    expect(count).toBeGreaterThanOrEqual(2);
  });

  it('are kept with who set them, and the same again adds nothing', async () => {
    const world = await open();
    expect(await set(world, { smooth: 1, typical: 1, rough: 2 })).not.toBeNull();
    expect(await set(world, { smooth: 1, typical: 1, rough: 2 })).toBeNull();
    expect(await set(world, { smooth: 1, typical: 1, rough: 3 })).not.toBeNull();
    const versions = await world.deps.store.read((tx) => tx.facts.versions('weights'));
    expect(versions.map(({ body, recordedBy }) => [body.rough, recordedBy])).toEqual([
      [2, 'test'],
      [3, 'test'],
    ]);
  });

  it('above what counts on a rider’s own bike are refused where there is no fleet', async () => {
    const world = await FlowWorld.open(NOON, DOCUMENT);
    await expect(inWords(set(world, { smooth: 1, typical: 1, rough: 3.01 }))).rejects.toMatchObject({
      message: expect.stringContaining('from 0.5 to 3, not 3.01'),
    });
    expect(await set(world, { smooth: 1, typical: 1, rough: 3 })).not.toBeNull();
  });

  it('of a document may be a fleet’s where its fleet comes with them', async () => {
    const weights = { smooth: 0.5, typical: 1, rough: 4 };
    const world = await FlowWorld.open(NOON, { ...DOCUMENT, fleets: [{ id: 't1', name: 'Team' }], weights });
    expect((await world.deps.store.read((tx) => tx.facts.list('weights')))[0]?.body).toEqual(weights);
  });

  it('out of range, or rougher ground that weighs less, are refused', async () => {
    const world = await open();
    for (const weights of [
      { smooth: 0.49, typical: 1, rough: 2 },
      { smooth: 1, typical: 1, rough: 4.01 },
      { smooth: 1, typical: Number.NaN, rough: 2 },
      { smooth: 2, typical: 1, rough: 2 },
      { smooth: 1, typical: 2, rough: 1.9 },
    ])
      await expect(inWords(set(world, weights))).rejects.toMatchObject({ code: 'refused' });
    expect(await world.deps.store.read((tx) => tx.facts.list('weights'))).toEqual([]);
  });
});
