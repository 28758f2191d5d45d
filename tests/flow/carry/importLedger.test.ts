/** An import file: all of it or nothing, and the same again adds nothing. */
import { describe, expect, it } from 'vitest';
import { importProblems } from '../../../src/cli/failureText.js';
import { readDocument } from '../../../src/cli/importSchema.js';
import { ImportRefused, importLedger } from '../../../src/flow/carry/importLedger.js';
import type { Problem } from '../../../src/problems.js';
import { DOCUMENT, FlowWorld, WORKSHOP } from '../flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';

const FULL = {
  ...DOCUMENT,
  workshop: { ...WORKSHOP, noticeDays: 10, closedDays: ['2025-12-25'] },
  weights: { smooth: 0.6, typical: 1, rough: 2.5 },
  fleets: [{ id: 't1', name: 'Team' }],
  bikes: [...DOCUMENT.bikes, { id: 'b2', rider: null, fleet: 't1', name: 'Race bike', type: 'gravity' }],
  serviceKinds: [{ unitKind: 'fork', name: 'seal-check', terrainHours: 20, benchMinutes: 15 }],
  units: [
    {
      tag: 'F-1',
      unitKind: 'fork',
      model: 'Sample fork',
      history: 'new',
      travelMm: 150,
      modelYear: 2024,
      spec: { 'lower-leg oil': 'as on the sticker', 'axle torque': 'look it up' },
    },
    { tag: 'C-1', unitKind: 'coil-shock', history: { terrainHours: 5, movingHours: 6, asOf: '2025-02-01' } },
  ],
  fittings: [
    ...DOCUMENT.fittings,
    { unit: 'C-1', bike: 'b2', from: '2025-01-01', to: '2025-06-01T10:00:00Z' },
  ],
  services: [
    {
      unit: 'F-1',
      serviceKind: 'lower-leg',
      on: '2025-03-01',
      findings: { foamRings: 'dark', oil: 'grey' },
      parts: [
        { part: 'foam ring', count: 2 },
        { part: 'fork oil', count: 30, measure: 'ml' },
      ],
      technician: 'Ada Benchley',
      price: '60, as on the bill',
    },
    { unit: 'C-1', serviceKind: 'bushings', on: '2025-03-02', elsewhere: true },
  ],
  intervals: [{ unitKind: 'fork', serviceKind: 'seal-check', scope: { unit: 'F-1' }, terrainHours: 15 }],
  hours: [
    { bike: 'b1', on: '2025-04-01', minutes: 30 },
    { bike: 'b1', on: '2025-04-01', minutes: 30 },
  ],
  races: [{ id: 'x1', name: 'Race', on: '2025-07-01', bikes: ['b2'], raceHours: 3.5 }],
  parts: [{ unitKind: 'fork', serviceKind: 'seal-check', part: 'wiper' }],
  shelf: [{ part: 'wiper', count: 4 }],
};

/** What is found wrong, as `place: words`. */
async function faultsOf(world: FlowWorld, document: object): Promise<string[]> {
  const read = readDocument(document);
  if ('wrong' in read) return read.wrong.map(({ path, message }) => `${path.join('.')}: ${message}`);
  const refused = await world.deps.store
    .write((tx) => importLedger(tx, read.document, world.entry))
    .then(
      () => new ImportRefused([]),
      (error: unknown) => error,
    );
  if (!(refused instanceof ImportRefused)) throw refused;
  return importProblems(refused).map(({ source, message }: Problem) => `${source}: ${message}`);
}

const count = (world: FlowWorld): Promise<number> => world.deps.store.read((tx) => tx.facts.count());

describe('an import', () => {
  it('takes every kind, and the same again, and again in pieces, adds nothing', async () => {
    const world = await FlowWorld.open(NOON, FULL);
    const facts = await count(world);
    expect(await world.due('F-1')).toMatchObject({ movingHoursSince: 1, state: 'in-time' });
    expect(await world.due('F-1', 'seal-check')).toMatchObject({
      interval: { terrainHours: 15, rule: 'unit' },
    });
    expect(await world.due('C-1', 'full')).toMatchObject({ movingHoursSince: 6 });
    await world.expectSound();
    await world.import(FULL);
    for (const [key, rows] of Object.entries(FULL)) await world.import({ [key]: rows });
    expect(await count(world)).toBe(facts);
    await world.expectSound();
  });

  it('takes rows alike as many times as the file holds them', async () => {
    const world = await FlowWorld.open(NOON, FULL);
    await world.import({ hours: [...FULL.hours, FULL.hours[0]] });
    expect((await world.due('F-1')).movingHoursSince).toBe(1.5);
  });

  it('replaces a row with an id whose content is new, and an older file does not bring the old one back', async () => {
    const world = await FlowWorld.open(NOON, FULL);
    const newer = { shelf: [{ part: 'wiper', count: 3 }], bikes: [{ ...FULL.bikes[0], name: 'Renamed' }] };
    await world.import(newer);
    await world.import(FULL);
    const stands = await world.deps.store.read(async (tx) => ({
      shelf: (await tx.facts.list('shelf')).map((fact) => fact.body.count),
      bikes: (await tx.facts.list('bike')).map((fact) => fact.body.name),
    }));
    expect(stands).toEqual({ shelf: [3], bikes: ['Renamed', 'Race bike'] });
  });

  it('does not bring back what was made void', async () => {
    const world = await FlowWorld.open(NOON, FULL);
    await world.deps.store.write(async (tx) => {
      const [service] = await tx.facts.list('service', { subject: (await tx.handles.find('unit', 'F-1'))! });
      await tx.facts.void(service!.id, 'test', world.entry.at, 'another fork');
    });
    await world.import(FULL);
    expect(await world.deps.store.read(async (tx) => (await tx.facts.list('service')).length)).toBe(1);
  });

  it('refuses a row that would overwrite another of the same file; the same row again adds nothing', async () => {
    const world = await FlowWorld.open(NOON, FULL);
    const faults = await faultsOf(world, {
      units: [
        { tag: 'F-2', unitKind: 'fork' },
        { tag: 'F-2', unitKind: 'air-shock' },
      ],
      riders: [
        { id: 'r2', name: 'Rider Two' },
        { id: 'r2', name: 'Rider Too' },
      ],
      intervals: [
        { unitKind: 'fork', serviceKind: 'lower-leg', terrainHours: 40 },
        { unitKind: 'fork', serviceKind: 'lower-leg', scope: { unit: 'F-1' }, terrainHours: 45 },
        { unitKind: 'fork', serviceKind: 'lower-leg', terrainHours: 50 },
      ],
    });
    expect(faults.sort()).toEqual([
      'intervals[2]: fork lower-leg stands in intervals[0] already, with other values.',
      'riders[1]: r2 stands in riders[0] already, with other values.',
      'units[1]: F-2 stands in units[0] already, with other values.',
    ]);
    const twice = { tag: 'F-2', unitKind: 'fork' };
    const facts = await count(world);
    await world.import({ units: [twice, twice] });
    expect(await count(world)).toBe(facts + 1);
  });

  it('refuses a name that only capital letters tell from another, until that one is gone', async () => {
    const world = await FlowWorld.open(NOON, FULL);
    expect(
      await faultsOf(world, {
        riders: [{ id: 'R1', name: 'Rider One' }],
        bikes: [{ id: 'B1', rider: 'r1', name: 'Bike one' }],
        units: [
          { tag: 'f-1', unitKind: 'fork' },
          { tag: 'F-3', unitKind: 'fork' },
          { tag: 'f-3', unitKind: 'fork' },
        ],
      }),
    ).toEqual([
      expect.stringMatching(/^riders\[0\]: "R1" differs only in capital letters from the rider "r1"\./),
      expect.stringMatching(/^bikes\[0\]: "B1" differs only in capital letters from the bike "b1"\./),
      expect.stringMatching(/^units\[0\]: "f-1" differs only in capital letters from the unit "F-1"\./),
      expect.stringMatching(/^units\[2\]: "f-3" differs only in capital letters from the unit "F-3"\./),
    ]);
    await world.import({ units: [{ tag: 'F-3', unitKind: 'fork' }] });
    await world.deps.store.write(async (tx) => {
      const unit = await tx.facts.current('unit', (await tx.handles.find('unit', 'F-3'))!);
      await tx.facts.void(unit!.id, 'test', world.entry.at, 'typed wrong');
    });
    await world.import({ units: [{ tag: 'f-3', unitKind: 'fork' }] });
    expect(await world.id('unit', 'f-3')).toBeTruthy();
  });

  it('tells all that is wrong at once, each with its place, and keeps nothing', async () => {
    const world = await FlowWorld.open(NOON, FULL);
    const facts = await count(world);
    const faults = await faultsOf(world, {
      riders: [{ id: 'r9', name: 'Nobody yet' }],
      bikes: [{ id: 'b9', rider: 'r8', name: 'Bike nine' }],
      fittings: [
        { unit: 'F-9', bike: 'b1', from: '2025-06-02' },
        { unit: 'F-1', bike: 'b2', from: '2025-06-02' },
      ],
      services: [
        { unit: 'C-1', serviceKind: 'air-sleeve', on: '2025-06-01' },
        { unit: 'F-1', serviceKind: 'full', on: '2019-12-31' },
        { unit: 'F-1', serviceKind: 'full', on: '2025-06-19' },
        { unit: 'F-1', serviceKind: 'full', on: '2025-06-01', restarts: ['air-sleeve'] },
        { unit: 'F-1', serviceKind: 'full', on: '2025-06-01', findings: { foamRings: 'brown' } },
        { unit: 'C-1', serviceKind: 'full', on: '2025-06-01', findings: { foamRings: 'dark' } },
      ],
      hours: [{ bike: 'b1', on: '2025-06-19', minutes: 5 }],
      intervals: [{ unitKind: 'coil-shock', serviceKind: 'damper', terrainHours: 5 }],
    });
    expect(faults).toEqual([
      'bikes[0].rider: There is no rider "r8".',
      'intervals[0]: A coil shock has no service kind "damper".',
      'fittings[0].unit: There is no unit "F-9".',
      expect.stringMatching(/^fittings\[1\]: F-1 is on bike b1 from .* Take it off first/),
      expect.stringMatching(/^services\[0\]: Service: C-1 is a coil shock and has no "air-sleeve"/),
      expect.stringMatching(
        /^services\[1\]: F-1 came new on 2020-01-01; it cannot have been serviced on 2019-12-31/,
      ),
      expect.stringMatching(/^services\[2\]: 2025-06-19 is in the future/),
      expect.stringMatching(/^services\[3\]: Restarts: F-1 counts no hours for "air-sleeve"/),
      'services[4]: Foam rings are pale, honey, dark, not "brown".',
      expect.stringMatching(/^services\[5\]: There is no finding "foamRings" here/),
      expect.stringMatching(/^hours\[0\]: 2025-06-19 is in the future/),
    ]);
    expect(await count(world)).toBe(facts);
    expect(await world.deps.store.read((tx) => tx.handles.find('rider', 'r9'))).toBeUndefined();
    await world.expectSound();
  });

  it('refuses values out of range and names that it does not know, each where it stands', async () => {
    const world = await FlowWorld.open(NOON);
    expect(
      await faultsOf(world, {
        weights: { smooth: 0, typical: 1, rough: 5 },
        units: [{ tag: 'F/2', unitKind: 'spring', factor: 9, history: 'old', colour: 'red' }],
        services: [{ unit: 'F-1', serviceKind: 'full', on: '2025-02-30' }],
        intervals: [{ unitKind: 'fork', serviceKind: 'full', terrainHours: -1, months: 1.5 }],
        gadgets: [],
      }),
    ).toEqual([
      'weights.smooth: must be more than 0',
      'weights.rough: must be at most 4',
      'units.0.tag: may have at most 64 characters, without slashes or hidden characters',
      'units.0.unitKind: must be one of: fork, air-shock, coil-shock',
      'units.0.factor: must be at most 3',
      'units.0.history: must be "new", "unknown", or terrainHours, movingHours and asOf together',
      'units.0: there is no such name: colour',
      'services.0.on: must be a day, YYYY-MM-DD',
      'intervals.0.terrainHours: must be more than 0',
      'intervals.0.months: must be a whole number',
      ': there is no such name: gadgets',
    ]);
    const falling = { weights: { smooth: 2, typical: 1, rough: 2 } };
    expect(await faultsOf(world, falling)).toEqual([
      expect.stringMatching(/^weights: Terrain weights cannot fall as the ground gets rougher/),
    ]);
  });

  it('needs a workshop first, and takes no other’s', async () => {
    const world = await FlowWorld.open(NOON);
    expect(await faultsOf(world, { workshop: { ...WORKSHOP, id: 'w2' } })).toEqual([
      'workshop: This data folder belongs to workshop "w1".',
    ]);
  });
});
