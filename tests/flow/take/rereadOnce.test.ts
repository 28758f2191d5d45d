/** A reader that changes reads kept files again: what people said stays, and what changes is told. */
import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { type KeptReading, READER_VERSION } from '../../../src/core/ground/samples/reading.js';
import { refreshAllDue } from '../../../src/flow/due/refreshDue.js';
import { answerTray } from '../../../src/flow/rides/answerTray.js';
import { listTray } from '../../../src/flow/rides/listTray.js';
import { countToReread, rereadOnce } from '../../../src/flow/take/rereadOnce.js';
import { hoursOfSeconds, instant, seconds } from '../../../src/units.js';
import { DOCUMENT, FlowWorld, rideFile } from '../flowWorld.js';

/** The reader that comes after this one. */
const NEXT = READER_VERSION + 1;

const NOW = '2025-06-20T12:00:00Z';
const TWO_BIKES = {
  ...DOCUMENT,
  bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r1', name: 'Bike two', type: 'trail' }],
  units: [...DOCUMENT.units, { tag: 'F-2', unitKind: 'fork', history: 'new' }],
  fittings: [...DOCUMENT.fittings, { unit: 'F-2', bike: 'b2', from: '2020-01-01' }],
};
const DAY = (n: number): string => `2025-06-${String(n).padStart(2, '0')}T09:00:00Z`;

/** Files are kept as the program keeps them, until the test loses them. */
class RereadWorld {
  readonly kept = new Map<string, Uint8Array>();
  readonly said: string[] = [];
  private constructor(readonly flow: FlowWorld) {}

  static async open(document: object = DOCUMENT): Promise<RereadWorld> {
    return new RereadWorld(await FlowWorld.open(NOW, document));
  }

  async take(bytes: Uint8Array, from: Parameters<FlowWorld['take']>[1] = {}): Promise<string> {
    this.kept.set(createHash('sha256').update(bytes).digest('hex'), bytes);
    const { rides } = await this.flow.take(bytes, from);
    return rides[0]!;
  }

  /** One step of the next reader, which finds in each file what `made` makes of what there was. */
  async step(
    made: (reading: KeptReading) => readonly KeptReading[] = (one) => [one],
    version = NEXT,
  ): Promise<boolean> {
    const { store, clock, reader } = this.flow.deps;
    return rereadOnce(
      {
        ...{ store, clock },
        log: {
          info: (what, message) => void this.said.push(`${message} ${JSON.stringify(what)}`),
          error: () => {},
        },
        originals: { read: async (sha256) => this.kept.get(sha256) ?? null },
        reader: {
          decode: async (file, now) => {
            const { readings, ...rest } = await reader.decode(file, now);
            const found = readings.flatMap(made);
            return found.length > 0
              ? { ...rest, readings: found }
              : { readings: [], outcome: 'no-ride', problem: null };
          },
        },
      },
      { version },
    );
  }

  fact = async () => (await this.flow.deps.store.read((tx) => tx.facts.list('reread'))).at(-1)?.body;
  left = (version = NEXT): Promise<number> => this.flow.deps.store.read((tx) => countToReread(tx, version));
  ride = async (id: string) => (await this.flow.deps.store.read((tx) => tx.rides.find(id)))!;
}

const longer = (reading: KeptReading): KeptReading[] => [
  {
    ...reading,
    movingS: seconds(reading.movingS * 1.5),
    moving: reading.moving.map(([from, to]) => [from, from + (to - from) * 1.5] as const),
    end: instant(reading.end! + 3_600_000),
  },
];

test('nothing is read again by the reader that read it', async () => {
  const world = await RereadWorld.open();
  await world.take(rideFile(DAY(3), 60));
  expect(await world.step(undefined, 1)).toBe(false);
  expect([await world.left(1), await world.fact()]).toEqual([0, undefined]);
});

test('a reader that finds the same changes nothing, and says that it looked', async () => {
  const world = await RereadWorld.open();
  const id = await world.take(rideFile(DAY(3), 60));
  const before = await world.ride(id);
  expect(await world.left()).toBe(1);
  expect(await world.step()).toBe(false);
  expect(await world.left()).toBe(0);
  expect(await world.ride(id)).toEqual(before);
  expect(await world.fact()).toEqual({ version: NEXT, files: 1, lost: 0, kept: 0, changes: [] });
  expect(world.said).toEqual([expect.stringContaining('kept files were read again')]);
  // And is asked no more.
  await world.step(() => []);
  expect(await world.ride(id)).toEqual(before);
  await world.flow.expectSound();
});

test('an answer follows its ride by file and start, and hours before and after are one fact', async () => {
  const world = await RereadWorld.open(TWO_BIKES);
  const id = await world.take(rideFile(DAY(3), 60), { bike: 'b1' });
  const other = await world.take(rideFile(DAY(5), 30), { bike: 'b1' });
  const { store } = world.flow.deps;
  const bikeId = await world.flow.id('bike', 'b2');
  await store.write((tx) => answerTray(tx, id, { bikeId }, world.flow.entry));
  await refreshAllDue(world.flow.deps);
  const before = await world.flow.due('F-2');
  await world.step(longer);
  expect(await world.ride(id)).toMatchObject({ id, bikeId, movingS: 5400 });
  expect(await world.ride(other)).toMatchObject({ movingS: 2700 });
  const after = await world.flow.due('F-2');
  expect([before.movingHoursSince, after.movingHoursSince]).toEqual([1, 1.5]);
  const { changes, files, lost } = (await world.fact())!;
  const units = [await world.flow.id('unit', 'F-1'), await world.flow.id('unit', 'F-2')];
  expect([files, lost]).toEqual([2, 0]);
  const told = changes.filter(({ serviceKind }) => serviceKind === 'lower-leg');
  const hours = new Map(
    told.map((one) => [
      one.unitId,
      [one.before, one.after].map(({ movingS }) => hoursOfSeconds(seconds(movingS))),
    ]),
  );
  expect(hours).toEqual(
    new Map([
      [units[0], [0.5, 0.75]],
      [units[1], [1, 1.5]],
    ]),
  );
  await world.flow.expectSound();
});

test('a ride that is found no more waits in the tray, named, and counts again when somebody says so', async () => {
  const world = await RereadWorld.open();
  const id = await world.take(rideFile(DAY(3), 60), { name: 'loop.fit' });
  const { store } = world.flow.deps;
  await world.step(() => []);
  const [row, ...rest] = await store.read((tx) => listTray(tx));
  expect(row).toMatchObject({ id, file: 'loop.fit', code: 'not-in-file', movingHours: 1 });
  expect(rest).toEqual([]);
  expect((await world.flow.due('F-1')).movingHoursSince).toBe(0);
  expect(await world.fact()).toMatchObject({ files: 1, lost: 1 });
  await world.flow.expectSound();
  await store.write((tx) => answerTray(tx, id, { ride: true }, world.flow.entry));
  expect((await world.flow.due('F-1')).movingHoursSince).toBe(1);
  await world.flow.expectSound();
});

test('a ride that is none stays none by its answer', async () => {
  const world = await RereadWorld.open();
  const id = await world.take(rideFile(DAY(3), 60));
  await world.step(() => []);
  await world.flow.deps.store.write((tx) => answerTray(tx, id, { ride: false }, world.flow.entry));
  expect(await world.ride(id)).toMatchObject({ dismissed: true });
  expect((await world.flow.due('F-1')).movingHoursSince).toBe(0);
  await world.flow.expectSound();
});

test('a reading whose file is gone stays as it was and is marked, until the file comes again', async () => {
  const world = await RereadWorld.open();
  const bytes = rideFile(DAY(3), 60);
  const id = await world.take(bytes);
  world.kept.clear();
  await world.step(longer);
  expect(await world.ride(id)).toMatchObject({ movingS: 3600, formerReader: true });
  expect(await world.fact()).toMatchObject({ files: 1, kept: 1, changes: [] });
  await world.flow.expectSound();
  expect(await world.left()).toBe(0);
  await world.take(bytes);
  expect(await world.left()).toBe(1);
  await world.step(longer);
  const ride = await world.ride(id);
  expect([ride.movingS, 'formerReader' in ride]).toEqual([5400, false]);
  await world.flow.expectSound();
});

test('another ride in the same file is a ride of its own, and the next reader begins where this one ended', async () => {
  const world = await RereadWorld.open();
  const id = await world.take(rideFile(DAY(3), 60));
  const later = 86_400_000;
  const two = (one: KeptReading): KeptReading[] => [
    one,
    { ...one, start: instant(one.start! + later), end: instant(one.end! + later) },
  ];
  await world.step(two);
  expect((await world.flow.due('F-1')).movingHoursSince).toBe(2);
  await world.flow.expectSound();
  await world.step((one) => two(one).flatMap(longer), NEXT + 1);
  expect(await world.ride(id)).toMatchObject({ movingS: 5400 });
  expect((await world.flow.due('F-1')).movingHoursSince).toBe(3);
  expect(await world.fact()).toMatchObject({ version: NEXT + 1, files: 1 });
  await world.flow.expectSound();
});

test('a bounded part at a time', async () => {
  const world = await RereadWorld.open();
  for (let i = 0; i < 23; i += 1) await world.take(rideFile(DAY(1 + (i % 19)), 10 + i, { made: i }));
  const all = await world.left();
  expect(await world.step()).toBe(true);
  expect(all - (await world.left())).toBe(20);
  expect(await world.fact()).toBeUndefined();
  expect(world.said).toEqual([expect.stringContaining('"left":3')]);
  expect(await world.step()).toBe(false);
  expect(await world.fact()).toMatchObject({ files: 23 });
});
