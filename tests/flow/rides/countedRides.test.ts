/** Riding that no recorder saw: on a line of its own, and in every hour that follows from it. */
import { describe, expect, it } from 'vitest';
import { listRunningHours } from '../../../src/flow/due/periodHours.js';
import { replaceFact, voidFact } from '../../../src/flow/facts/changeFact.js';
import { addHours, addService, addUnrecorded } from '../../../src/flow/facts/enterFacts.js';
import { getUnitLedger } from '../../../src/flow/unitLedger.js';
import { day, hoursOfSeconds } from '../../../src/units.js';
import { inWords } from '../../fixtures/inWords.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';

/** Fifteen rides of an hour each, from 1 to 15 May. */
async function ridden(): Promise<{ world: FlowWorld; bikeId: string }> {
  const world = await FlowWorld.open(NOON);
  for (let i = 1; i <= 15; i++)
    await world.take(rideFile(`2025-05-${String(i).padStart(2, '0')}T08:00:00Z`, 60), { name: `${i}.fit` });
  return { world, bikeId: await world.id('bike', 'b1') };
}

async function linesOf(world: FlowWorld, unit = 'F-1'): Promise<Record<string, number>> {
  const unitId = await world.id('unit', unit);
  const now = world.entry.at;
  const [first] = await world.deps.store.read(async (tx) =>
    listRunningHours(tx, await getUnitLedger(tx, unitId, 'Europe/Lisbon'), now),
  );
  return Object.fromEntries(
    Object.entries(first!.sources).map(([source, { movingS }]) => [source, hoursOfSeconds(movingS)]),
  );
}

describe('an unrecorded share of 10 %', () => {
  it('stands on a line of its own beside hand-entered hours, counts for the fork, and is taken back whole', async () => {
    const { world, bikeId } = await ridden();
    const { store } = world.deps;
    const body = { bikeId, from: day('2025-05-01'), to: null, share: 0.1, note: null };
    const id = await store.write((tx) => addUnrecorded(tx, body, world.entry));
    const hand = { bikeId, on: day('2025-05-20'), minutes: 90, ground: 'typical' as const, note: null };
    await store.write((tx) => addHours(tx, hand, world.entry));
    // A tenth of all riding is a ninth of the 15 h recorded; what was entered by hand was not forgotten.
    expect(await linesOf(world)).toEqual({ recorded: 15, 'by-hand': 1.5, unrecorded: 1.6667, declared: 0 });
    const due = await world.due('F-1');
    expect(due.movingHoursSince).toBeCloseTo(15 + 1.5 + 15 / 9, 2);
    expect(due.terrainHoursSince).toBeGreaterThan(17);
    await world.expectSound();
    await store.write((tx) => voidFact(tx, id, 'the recorder was never off', world.entry));
    expect(await linesOf(world)).toEqual({ recorded: 15, 'by-hand': 1.5, unrecorded: 0, declared: 0 });
    expect((await world.due('F-1')).movingHoursSince).toBe(16.5);
    await world.expectSound();
  });

  it('of a time counts in that time only, and by the fork that was fitted', async () => {
    const world = await FlowWorld.open(NOON, {
      ...DOCUMENT,
      units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
      fittings: [
        { unit: 'F-1', bike: 'b1', from: '2020-01-01', to: '2025-05-11' },
        { unit: 'F-2', bike: 'b1', from: '2025-05-11' },
      ],
      unrecorded: [{ bike: 'b1', from: '2025-05-06', to: '2025-05-13', share: 0.1 }],
    });
    // Files come after the word on them here, and before it above.
    for (let i = 1; i <= 15; i++)
      await world.take(rideFile(`2025-05-${String(i).padStart(2, '0')}T08:00:00Z`, 60), { name: `${i}.fit` });
    expect(await linesOf(world, 'F-1')).toEqual({
      recorded: 10,
      'by-hand': 0,
      unrecorded: 0.5556,
      declared: 0,
    });
    expect(await linesOf(world, 'F-2')).toEqual({
      recorded: 5,
      'by-hand': 0,
      unrecorded: 0.2222,
      declared: 0,
    });
    await world.expectSound();
  });

  it('ends with the service period in which it was ridden', async () => {
    const { world, bikeId } = await ridden();
    const { store } = world.deps;
    const unitId = await world.id('unit', 'F-1');
    const body = { bikeId, from: day('2025-05-01'), to: null, share: 0.1, note: null };
    await store.write((tx) => addUnrecorded(tx, body, world.entry));
    const service = {
      ...{ unitId, serviceKind: 'lower-leg', on: day('2025-05-13') },
      ...{ by: 'here' as const, findings: null, note: null },
    };
    await store.write((tx) => addService(tx, service, world.entry));
    expect(await linesOf(world)).toEqual({ recorded: 3, 'by-hand': 0, unrecorded: 0.3333, declared: 0 });
    expect((await world.due('F-1')).movingHoursSince).toBeCloseTo(10 / 3, 3);
    expect((await world.due('F-1', 'full')).movingHoursSince).toBeCloseTo(50 / 3, 2);
    await world.expectSound();
  });

  it('is refused twice for one time, beyond nine tenths, and the wrong way round', async () => {
    const { world, bikeId } = await ridden();
    const { store } = world.deps;
    const body = { bikeId, from: day('2025-05-01'), to: day('2025-06-01'), share: 0.1, note: null };
    const add = (more: object) => store.write((tx) => addUnrecorded(tx, { ...body, ...more }, world.entry));
    const id = await add({});
    await expect(inWords(add({ from: day('2025-05-31'), to: null }))).rejects.toThrow(
      /already has an unrecorded share from 2025-05-01 to 2025-06-01/,
    );
    await add({ from: day('2025-06-01'), to: null });
    await expect(
      inWords(add({ from: day('2024-01-01'), to: day('2024-02-01'), share: 0.95 })),
    ).rejects.toThrow(/at most 90 %/);
    await expect(inWords(add({ from: day('2024-02-01'), to: day('2024-02-01') }))).rejects.toThrow(
      /must end after/,
    );
    const more = { kind: 'unrecorded' as const, body: { ...body, share: 0.2 } };
    await store.write((tx) => replaceFact(tx, id, more, { ...world.entry, why: 'asked again' }));
    expect((await linesOf(world)).unrecorded).toBe(3.75);
    await world.expectSound();
  });

  it('comes again with the same import file and adds nothing', async () => {
    const { world } = await ridden();
    const document = {
      ...DOCUMENT,
      unrecorded: [{ bike: 'b1', from: '2025-05-01', share: 0.1, note: 'as the rider says' }],
    };
    await world.import(document);
    const before = await world.deps.store.read((tx) => tx.facts.count());
    await world.import(document);
    expect(await world.deps.store.read((tx) => tx.facts.count())).toBe(before);
    expect((await linesOf(world)).unrecorded).toBe(1.6667);
  });
});
