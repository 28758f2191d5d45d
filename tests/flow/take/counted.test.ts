/** Every ride counted, once, for the right bike: through the flow and the real store. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answersTo } from '../../../src/cli/trayText.js';
import { addService } from '../../../src/flow/facts/enterFacts.js';
import { queueNotices } from '../../../src/flow/mail/queueNotices.js';
import { answerTray } from '../../../src/flow/rides/answerTray.js';
import { listTray } from '../../../src/flow/rides/listTray.js';
import { day } from '../../../src/units.js';
import { allRides } from '../../fixtures/allRides.js';
import { runs } from '../../fixtures/runs.js';
import { zipFile } from '../../fixtures/zipFile.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';
const morning = (dayOfJune: number): string => `2025-06-${String(dayOfJune).padStart(2, '0')}T08:00:00Z`;

describe('once', () => {
  it('a fork at 38.0 h of 50 and six files of 45 min: 42.5, and the same renamed and zipped: 42.5 and no further mail', async () => {
    const known = { terrainHours: 38, movingHours: 38, asOf: '2025-06-01' };
    const world = await FlowWorld.open(NOON, {
      ...DOCUMENT,
      units: [{ tag: 'F-1', unitKind: 'fork', history: known }],
    });
    const files = Array.from({ length: 6 }, (_, i) => rideFile(morning(2 + i), 45));
    for (const [i, bytes] of files.entries())
      expect(await world.take(bytes, { name: `${i}.fit` })).toMatchObject({ outcome: 'counted' });
    expect(await world.due('F-1')).toMatchObject({ terrainHoursSince: 42.5, movingHoursSince: 42.5 });
    const first = await world.mail();
    const zip = zipFile(files.map((bytes, i) => ({ name: `export/renamed-${i}.dat`, bytes })));
    const again = await world.takeArchive(zip, 'export.zip');
    expect(again.map((one) => one.outcome)).toEqual(new Array(6).fill('counted-already'));
    expect((await world.due('F-1')).terrainHoursSince).toBe(42.5);
    expect(await world.mail()).toEqual([]);
    expect(first.length).toBeLessThanOrEqual(2);
    await world.expectSound();
  });

  it('another file of a ride joins it, and says so', async () => {
    const world = await FlowWorld.open(NOON);
    await world.take(rideFile(morning(10), 60));
    const joined = await world.take(rideFile(morning(10), 70, { made: 2 }), { name: 'phone.fit' });
    expect(joined).toMatchObject({ outcome: 'joined', code: null });
    expect((await world.due('F-1')).movingHoursSince).toBeCloseTo(70 / 60, 3);
    await world.expectSound();
  });

  it('the same file from two riders of a group is two rides', async () => {
    const document = {
      ...DOCUMENT,
      riders: [...DOCUMENT.riders, { id: 'r2', name: 'Rider Two', email: 'r2@example.org' }],
      bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r2', name: 'Bike two', type: 'trail' }],
      units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
      fittings: [...DOCUMENT.fittings, { unit: 'F-2', bike: 'b2', from: '2020-01-01' }],
    };
    const world = await FlowWorld.open(NOON, document);
    await world.take(rideFile(morning(10), 60));
    expect(await world.take(rideFile(morning(10), 60), { rider: 'r2' })).toMatchObject({
      outcome: 'counted',
    });
    expect([(await world.due('F-1')).movingHoursSince, (await world.due('F-2')).movingHoursSince]).toEqual([
      1, 1,
    ]);
    await world.expectSound();
  });

  it('800 old files for a fork fitted 1 March and serviced 1 May: kept, not charged, nothing in the tray, one mail at most', async () => {
    const world = await FlowWorld.open('2025-05-20T12:00:00Z', {
      ...DOCUMENT,
      fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-03-01' }],
      services: [{ unit: 'F-1', serviceKind: 'lower-leg', on: '2025-05-01' }],
    });
    for (let i = 0; i < 800; i++) {
      const start = new Date(Date.parse('2025-05-19T08:00:00Z') - i * 86_400_000).toISOString();
      const taken = await world.take(rideFile(start, 10), { name: `${i}.fit` });
      expect(taken.outcome).toBe(start < '2025-03-01' ? 'kept-only' : 'counted');
    }
    // 19 days since the service, 80 since the fitting, ten minutes each.
    expect((await world.due('F-1')).movingHoursSince).toBeCloseTo(190 / 60, 3);
    expect((await world.due('F-1', 'full')).movingHoursSince).toBeCloseTo(800 / 60, 3);
    expect(await world.deps.store.read(listTray)).toEqual([]);
    const mails = [...(await world.mail())];
    world.now = '2025-05-21T07:00:00Z';
    mails.push(...(await world.mail()));
    expect(mails.filter((mail) => mail.startsWith('r1@')).length).toBeLessThanOrEqual(1);
    const rides = await world.deps.store.read((tx) => allRides(tx));
    expect(rides).toHaveLength(800);
    await world.expectSound();
  }, 400_000);
});

/** Two bikes, so that nothing is clear by itself. */
const TWO_BIKES = {
  ...DOCUMENT,
  bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r1', name: 'Bike two', type: 'trail' }],
  units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
  fittings: [...DOCUMENT.fittings, { unit: 'F-2', bike: 'b2', from: '2020-01-01' }],
};

describe('for the right bike', () => {
  it('two confirmed rides teach a sensor; a ride that waited and one that comes go to its bike; a heart strap never', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    const speed = { sensors: [{ id: 'speed:1', boundTo: 'bike' as const }] };
    const strap = { sensors: [{ id: 'heart:9', boundTo: 'rider' as const }] };
    const [first, second, waiting] = [morning(2), morning(3), morning(4)].map((start) =>
      rideFile(start, 60, speed),
    );
    for (const bytes of [first!, second!, waiting!])
      expect(await world.take(bytes)).toMatchObject({ outcome: 'ask', code: 'which-bike' });
    const tray = await world.deps.store.read(listTray);
    expect(answersTo(tray[0]!).map((one) => one.option)).toEqual(['--bike b1', '--bike b2', '--ride no']);
    for (const { id } of tray.slice(0, 2)) {
      const bikeId = await world.id('bike', 'b2');
      await world.deps.store.write((tx) => answerTray(tx, id, { bikeId }, world.entry));
    }
    expect(await world.deps.store.read(listTray)).toEqual([]);
    expect((await world.due('F-2')).movingHoursSince).toBe(3);
    expect(await world.take(rideFile(morning(5), 60, speed))).toMatchObject({
      outcome: 'counted',
      bikeRule: 'sensor',
      bikeId: await world.id('bike', 'b2'),
    });
    for (const start of [morning(6), morning(7)])
      await world.take(rideFile(start, 60, strap), { bike: 'b1' });
    expect(await world.take(rideFile(morning(8), 60, strap))).toMatchObject({
      outcome: 'ask',
      code: 'which-bike',
    });
    await world.expectSound();
  });

  it('a file that comes again in a bike’s folder finds its bike', async () => {
    const world = await FlowWorld.open(NOON, TWO_BIKES);
    const bytes = rideFile(morning(2), 60);
    expect(await world.take(bytes)).toMatchObject({ outcome: 'ask' });
    expect(await world.take(bytes, { bike: 'b1', rule: 'subfolder' })).toMatchObject({
      outcome: 'counts-now',
      bikeRule: 'subfolder',
      changed: [{ tag: 'F-1', movingS: 3600 }],
    });
    expect((await world.due('F-1')).movingHoursSince).toBe(1);
    await world.expectSound();
  });

  it('3 h at weight 0.9 moved from A (46.0) to B (12.0): 43.3 and 14.7; the notice for A is withdrawn, and comes again with it', async () => {
    const known = (hours: number) => ({ terrainHours: hours, movingHours: hours, asOf: '2025-05-01' });
    const world = await FlowWorld.open('2025-06-17T12:00:00Z', {
      ...TWO_BIKES,
      units: [
        { tag: 'F-1', unitKind: 'fork', history: known(29.8), factor: 0.9 },
        { tag: 'F-2', unitKind: 'fork', history: known(12), factor: 0.9 },
      ],
    });
    // Six weeks of 2.5 h at weight 1 with the unit's factor .9, and the ride that is moved.
    for (let week = 0; week < 6; week++) {
      const start = new Date(Date.parse('2025-05-06T08:00:00Z') + week * 7 * 86_400_000).toISOString();
      await world.take(rideFile(start, 150), { name: `${week}.fit`, bike: 'b1' });
    }
    const moved = await world.take(rideFile('2025-06-15T08:00:00Z', 180), { bike: 'b1' });
    const hours = async () => [
      (await world.due('F-1')).terrainHoursSince,
      (await world.due('F-2')).terrainHoursSince,
    ];
    // 29.8 + 15 × .9 + 2.7
    expect(await hours()).toEqual([46, 12]);
    const queued = async () =>
      (await queueNotices(world.deps)).filter(
        (one) => one.to !== 'workshop' && one.serviceKind === 'lower-leg',
      );
    world.now = '2025-06-17T04:00:00Z';
    expect((await queued()).map((one) => one.decision)).toContain('queue');
    const move = async (bike: string) => {
      const bikeId = await world.id('bike', bike);
      await world.deps.store.write((tx) => answerTray(tx, moved.rides[0]!, { bikeId }, world.entry));
    };
    await move('b2');
    expect(await hours()).toEqual([43.3, 14.7]);
    expect((await queued()).map((one) => one.decision)).toEqual(['withdraw']);
    await move('b1');
    expect(await hours()).toEqual([46, 12]);
    expect((await queued()).map((one) => one.decision)).toContain('queue');
    const ride = await world.deps.store.read((tx) => tx.rides.find(moved.rides[0]!));
    const [reading] = ride!.readingIds;
    const said = await world.deps.store.read((tx) => tx.facts.history(reading!));
    expect(said.map((fact) => [fact.kind, fact.recordedBy])).toEqual([
      ['answer', 'test'],
      ['answer', 'test'],
    ]);
    await world.expectSound();
  });

  it('a service of the day counts that day’s rides in the new period', async () => {
    const world = await FlowWorld.open(NOON);
    await world.take(rideFile(morning(10), 60));
    const unitId = await world.id('unit', 'F-1');
    const service = {
      unitId,
      serviceKind: 'lower-leg',
      on: day('2025-06-10'),
      by: 'here' as const,
      findings: null,
      note: null,
    };
    await world.deps.store.write((tx) => addService(tx, service, world.entry));
    expect((await world.due('F-1')).movingHoursSince).toBe(1);
    await world.take(rideFile('2025-06-09T22:59:00Z', 60));
    expect((await world.due('F-1')).movingHoursSince).toBe(1);
  });
});

const anyFile = fc.record({
  quarter: fc.integer({ min: 0, max: 30 }),
  quarters: fc.integer({ min: 1, max: 6 }),
  rider: fc.constantFrom('r1', 'r1', null),
  bike: fc.constantFrom('b1', 'b2', undefined),
  sensor: fc.constantFrom('speed:1', 'speed:2', null),
});

describe('whatever the order', () => {
  it('any delivery, in any order, split and repeated, comes to the same hours, and the ledger agrees with itself', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(anyFile, { minLength: 2, maxLength: 6 }),
        fc.array(fc.nat(), { minLength: 12, maxLength: 12 }),
        async (files, order) => {
          const give = async (indexes: readonly number[]) => {
            const world = await FlowWorld.open(NOON, TWO_BIKES);
            for (const i of indexes) {
              const one = files[i]!;
              const start = new Date(
                Date.parse('2025-06-10T06:00:00Z') + one.quarter * 900_000,
              ).toISOString();
              const sensors = one.sensor === null ? [] : [{ id: one.sensor, boundTo: 'bike' as const }];
              const bytes = rideFile(start, one.quarters * 15, { sensors, made: i });
              await world.take(bytes, {
                name: `${i}-${indexes.length}.fit`,
                rider: one.rider,
                ...(one.bike ? { bike: one.bike } : {}),
              });
            }
            await world.expectSound();
            const hours = [await world.due('F-1'), await world.due('F-2')].map((row) => [
              row.movingHoursSince,
              row.waitingHours,
            ]);
            await world.deps.store.close();
            return hours;
          };
          const inOrder = files.map((_, i) => i);
          const shuffled = [...inOrder].sort((a, b) => order[a]! - order[b]! || a - b);
          const expected = await give(inOrder);
          expect(await give([...shuffled, ...shuffled.slice(0, 2)])).toEqual(expected);
        },
      ),
      { numRuns: runs(12, 3), seed: 20250618 },
    );
  }, 400_000);
});
