/** Bad input, row by row: what becomes of it, in words that a rider can act on, and nothing is lost. */

import { symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { answersTo } from '../../../src/cli/trayText.js';
import type { ProfilePoint } from '../../../src/core/ground/samples/reading.js';
import { ImportRefused } from '../../../src/flow/carry/importLedger.js';
import { answerTray } from '../../../src/flow/rides/answerTray.js';
import { listTray } from '../../../src/flow/rides/listTray.js';
import type { InboxRow } from '../../../src/ports/inbox.js';
import { instant, isoTime } from '../../../src/units.js';
import { allRides } from '../../fixtures/allRides.js';
import { type FitSample, rideFit, straightRide } from '../../fixtures/fitFile.js';
import { type GpxPoint, gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { inWords } from '../../fixtures/inWords.js';
import { zipFile } from '../../fixtures/zipFile.js';
import { DOCUMENT } from '../flowWorld.js';
import { FolderWorld, gpx } from './folderWorld.js';

const START = Date.parse('2025-06-10T08:00:00Z');
const fitBytes = (samples: readonly FitSample[] = straightRide(START, 601)) =>
  rideFit({ samples, sessions: [{ startMs: samples[0]?.timeMs ?? START, sport: 2 }] }).bytes();
const track = (points: readonly GpxPoint[]) => textBytes(gpxText([{ type: 'cycling', segments: [points] }]));

/** What a person can do, one of which every refusal names. */
const ADVICE =
  /\b(Copy|Export|export|Unpack|Pack|Hand over|enter its hours|Give it another name|Say|say|When|Whose|Which|Was it|Is this|Is it|Is there|no ride file is|has to say|tell the workshop)\b/;

/** Puts one file in the rider's folder and says what became of it, after it stood still. */
async function drop(
  name: string,
  bytes: Uint8Array | string,
): Promise<{ folder: FolderWorld; row: InboxRow; hours: number }> {
  const folder = await FolderWorld.open();
  folder.put(`r1/b1/${name}`, bytes);
  await folder.scan();
  folder.world.now = '2025-06-18T12:06:00Z';
  await folder.scan();
  const row = (await folder.rows()).find((one) => one.path === `r1/b1/${name}`)!;
  expect(row.settled).toBe(true);
  if (row.outcome !== 'counted') expect(folder.line(`b1/${name}`)).toMatch(ADVICE);
  return { folder, row, hours: await folder.movingHours() };
}

describe('not a ride file', () => {
  it('text, an image and an empty file are set aside with the reason', async () => {
    const png = Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex');
    for (const [name, bytes, code] of [
      ['list.txt', 'Milk, eggs', 'not-fit-or-gpx'],
      ['photo.fit', png, 'not-fit-or-gpx'],
      ['empty.gpx', '', 'empty'],
    ] as const) {
      const { row, hours } = await drop(name, bytes);
      expect([row.outcome, row.code, hours]).toEqual(['set-aside', code, 0]);
    }
  });

  it('a wrong ending alone does no harm', async () => {
    for (const [name, bytes] of [
      ['ride.txt', fitBytes()],
      ['ride.gpx', fitBytes()],
      ['ride.fit', gpx('2025-06-10T08:00:00Z')],
      ['ride', gpx('2025-06-10T08:00:00Z')],
    ] as const)
      expect((await drop(name, bytes)).hours).toBeCloseTo(1 / 6, 3);
  });

  it('another sport, a course and waypoints are no ride, and say so', async () => {
    const run = rideFit({ samples: straightRide(START, 601), sessions: [{ startMs: START, sport: 1 }] });
    const course = rideFit({ samples: straightRide(START, 601), fileType: 6 });
    for (const [name, bytes, code] of [
      ['run.fit', run.bytes(), 'other-sport'],
      ['course.fit', course.bytes(), 'not-an-activity'],
      ['waypoints.gpx', textBytes(gpxText([]).replace('</gpx>', '<wpt lat="1" lon="2"/></gpx>')), 'no-track'],
    ] as const) {
      const folder = await FolderWorld.open();
      folder.put(`r1/b1/${name}`, bytes);
      await folder.scan();
      const [row] = await folder.rows();
      expect([row!.outcome, row!.code]).toEqual(['no-ride', code]);
      expect(folder.line(`b1/${name}`)).toMatch(ADVICE);
    }
  });
});

describe('damaged', () => {
  it('cut off in the middle: the part that can be read counts, and says that it is incomplete', async () => {
    const whole = fitBytes();
    const { row, hours } = await drop('cut.fit', whole.subarray(0, whole.length / 2));
    expect([row.outcome, row.code]).toEqual(['counted', 'cut-off']);
    expect(hours).toBeGreaterThan(0.05);
    expect(hours).toBeLessThan(0.1);
    const cut = gpx('2025-06-10T08:00:00Z');
    expect((await drop('cut.gpx', cut.subarray(0, cut.length / 2))).row).toMatchObject({
      outcome: 'counted',
      code: 'cut-off',
    });
  });

  it('a bad checksum and garbage after a good part count as damaged', async () => {
    const flipped = fitBytes().slice();
    flipped[flipped.length - 1]! ^= 1;
    for (const bytes of [flipped, Buffer.concat([fitBytes(), Buffer.from('garbage after the ride')])]) {
      const { row, hours } = await drop('odd.fit', bytes);
      expect([row.outcome, row.code]).toEqual(['counted', 'checksum']);
      expect(hours).toBeCloseTo(1 / 6, 2);
    }
  });

  it('too little to trust is set aside', async () => {
    const { row } = await drop('stub.fit', fitBytes().subarray(0, 40));
    expect(row).toMatchObject({ outcome: 'set-aside', code: 'unreadable' });
  });

  it('a sound file that comes after it replaces it', async () => {
    const whole = fitBytes();
    const { folder } = await drop('ride.fit', whole.subarray(0, whole.length / 2));
    folder.put('r1/b1/again.fit', whole);
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    const rides = await folder.deps.store.read((tx) => allRides(tx));
    expect(rides.map((ride) => [ride.readingIds.length, ride.damage])).toEqual([[2, null]]);
    await folder.world.expectSound();
  });
});

describe('time', () => {
  it('a clock never set or in the future waits with the date as read, counts nothing, and counts once told', async () => {
    for (const [time, code] of [
      ['1989-12-31T00:10:00Z', 'clock-unset'],
      ['2000-01-01T00:10:00Z', 'clock-unset'],
      ['2031-06-10T08:00:00Z', 'clock-future'],
    ] as const) {
      const { folder, row, hours } = await drop('clock.gpx', track(straightTrack(Date.parse(time), 601)));
      expect([row.outcome, row.code, hours]).toEqual(['ask', code, 0]);
      const [waiting] = await folder.deps.store.read(listTray);
      expect(isoTime(waiting!.start!)).toBe(time);
      const bikeId = await folder.world.id('bike', 'b1');
      // All that a forecast is made from.
      expect(await folder.deps.store.read((tx) => tx.rides.listCounted(bikeId))).toEqual([]);
      await folder.deps.store.write((tx) =>
        answerTray(tx, waiting!.id, { on: instant(START) }, folder.world.entry),
      );
      expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
      await folder.world.expectSound();
    }
  });

  it('samples that go back are dropped, counted and noted; a ride of nothing else is set aside', async () => {
    const points = straightTrack(START, 601);
    const back = points.map((point, i) => (i % 100 === 50 ? { ...point, time: START - 5000 } : point));
    const { folder, hours } = await drop('back.gpx', track(back));
    expect(hours).toBeCloseTo(1 / 6, 2);
    const ids = await folder.deps.store.read((tx) => tx.readings.listIds());
    const [stored] = await folder.deps.store.read((tx) => tx.readings.getMany(ids));
    expect(stored!.reading.notes).toContainEqual(expect.objectContaining({ count: 6 }));
    const reversed = straightRide(START, 100).map((sample, i) => ({ ...sample, timeMs: START - i * 1000 }));
    expect((await drop('reversed.fit', fitBytes(reversed))).row).toMatchObject({
      outcome: 'set-aside',
      code: 'unreadable',
    });
  });

  it('a track without times is asked for when and how long', async () => {
    const untimed = straightTrack(START, 601).map(({ time: _, ...point }) => point);
    const { folder, row } = await drop('untimed.gpx', track(untimed));
    expect([row.outcome, row.code]).toEqual(['ask', 'no-times']);
    const [waiting] = await folder.deps.store.read(listTray);
    const answer = (minutes?: number) =>
      folder.deps.store.write((tx) =>
        answerTray(
          tx,
          waiting!.id,
          { on: instant(START), ...(minutes === undefined ? {} : { minutes }) },
          folder.world.entry,
        ),
      );
    await expect(inWords(answer())).rejects.toThrow(/say for how many minutes/);
    await answer(45);
    expect(await folder.movingHours()).toBe(0.75);
    await folder.world.expectSound();
  });
});

describe('exports', () => {
  const ride = gpx('2025-06-10T08:00:00Z');

  it('gz, zip, and gz inside zip are opened; a third level is not', async () => {
    const inner = zipFile([{ name: 'one.gpx.gz', bytes: gzipSync(ride) }]);
    for (const bytes of [gzipSync(ride), zipFile([{ name: 'one.gpx', bytes: ride }]), inner])
      expect((await drop('export', bytes)).hours).toBeCloseTo(1 / 6, 3);
    const third = await drop('export.zip', zipFile([{ name: 'inner.zip', bytes: inner }]));
    expect(third.row).toMatchObject({ outcome: 'set-aside', code: 'not-fit-or-gpx' });
  });

  it('a bomb, a path outside and a link in an archive are refused, and the rest of it counts', async () => {
    const bomb = await drop('bomb.zip', zipFile([{ name: 'zeros.fit', bytes: Buffer.alloc(50_000_000) }]));
    expect(bomb.row).toMatchObject({ outcome: 'set-aside', code: 'archive-limits' });
    const { folder, row, hours } = await drop(
      'mixed.zip',
      zipFile([
        { name: 'good.gpx', bytes: ride },
        { name: '../../outside.gpx', bytes: gpx('2025-06-11T08:00:00Z') },
        { name: 'link.gpx', bytes: textBytes('/etc/hosts'), mode: 0o120777 },
        { name: 'readme.txt', bytes: textBytes('hello') },
      ]),
    );
    expect(hours).toBeCloseTo(1 / 6, 3);
    expect(row.outcome).toBe('archive');
    const told = folder.line('b1/mixed.zip');
    expect(told).toMatch(/^counted: 1; set aside: 3\n/);
    for (const name of ['outside.gpx', 'link.gpx', 'readme.txt']) expect(told).toContain(name);
  });

  it('too many files in one archive are refused before any is unpacked', async () => {
    const many = Array.from({ length: 5001 }, (_, i) => ({ name: `${i}.gpx`, bytes: textBytes('x') }));
    const { row } = await drop('many.zip', zipFile(many));
    expect(row).toMatchObject({ outcome: 'set-aside', code: 'archive-limits' });
  });

  it('a cut-off archive is set aside once it stood still', async () => {
    const zip = zipFile([{ name: 'one.gpx', bytes: ride }]);
    const { row } = await drop('cut.zip', zip.subarray(0, zip.length - 30));
    expect(row).toMatchObject({ outcome: 'set-aside', code: 'unreadable' });
  });
});

describe('hostile text', () => {
  it('entities and deep nesting are refused', async () => {
    const bomb = `<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><gpx><trk><name>&b;</name></trk></gpx>`;
    expect((await drop('bomb.gpx', bomb)).row).toMatchObject({ outcome: 'set-aside', code: 'xml-entities' });
    const deep = gpxText([{ segments: [straightTrack(START, 10)] }]).replace(
      '<trk>',
      `${'<a>'.repeat(5000)}${'</a>'.repeat(5000)}<trk>`,
    );
    expect((await drop('deep.gpx', deep)).row.outcome).toBe('set-aside');
  });

  it('positions out of range, absurd elevation and malformed numbers are dropped, counted and noted', async () => {
    const points = straightTrack(START, 601).map((point, i) => {
      if (i % 100 === 10) return { ...point, lat: '95.1' };
      if (i % 100 === 30) return { ...point, ele: '123456' };
      if (i % 100 === 50) return { ...point, lat: 'north' };
      return point;
    });
    const { folder, hours } = await drop('odd.gpx', track(points));
    expect(hours).toBeCloseTo(1 / 6, 2);
    const ids = await folder.deps.store.read((tx) => tx.readings.listIds());
    const [stored] = await folder.deps.store.read((tx) => tx.readings.getMany(ids));
    expect(stored!.reading.notes.length).toBeGreaterThanOrEqual(2);
    const profiles = await folder.deps.store.read((tx) => tx.readings.listProfiles(ids));
    const profile = JSON.parse(profiles.get(stored!.id)!) as ProfilePoint[];
    expect(Math.max(...profile.map((point) => point.elevationM ?? 0))).toBeLessThan(200);
  });
});

describe('whose and which', () => {
  it('a rider or a bike that nobody knows waits in the tray', async () => {
    const folder = await FolderWorld.open();
    folder.put('somebody/a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/some bike/b.gpx', gpx('2025-06-11T08:00:00Z'));
    folder.put('loose.gpx', gpx('2025-06-12T08:00:00Z'));
    await folder.scan();
    const waiting = await folder.deps.store.read(listTray);
    expect(waiting.map((row) => [row.file, row.code])).toEqual([
      ['somebody/a.gpx', 'who'],
      ['r1/some bike/b.gpx', 'which-bike'],
      ['loose.gpx', 'who'],
    ]);
    for (const row of waiting) expect(answersTo(row).length).toBeGreaterThan(1);
    expect(folder.told('')).toMatch(
      /^loose\.gpx: waiting for an answer\. The workshop has to say whose it is\.$/m,
    );
  });

  it('a link is not followed and said', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    symlinkSync('/etc/hosts', join(folder.root, 'r1', 'hosts.gpx'));
    await folder.scan();
    expect(folder.told()).toMatch(/^hosts\.gpx: set aside\. .*Copy the file itself/m);
  });
});

describe('what is entered', () => {
  const refused = async (more: object): Promise<string> => {
    const folder = await FolderWorld.open();
    const error = await folder.world.import(more).catch((caught: unknown) => caught);
    expect(error).toBeInstanceOf(ImportRefused);
    // Nothing of it was kept.
    expect(await folder.deps.store.read((tx) => tx.facts.list('service'))).toEqual([]);
    return (error as ImportRefused).message;
  };

  it('overlapping fittings and a service before the unit existed are refused, naming the conflict', async () => {
    const second = {
      services: [{ unit: 'F-1', serviceKind: 'lower-leg', on: '2025-05-01' }],
      units: [{ tag: 'F-2', unitKind: 'fork', history: 'new' }],
      fittings: [{ unit: 'F-2', bike: 'b1', from: '2025-01-01' }],
    };
    expect(await refused(second)).toMatch(/F-1/);
    expect(
      await refused({ services: [{ unit: 'F-1', serviceKind: 'lower-leg', on: '2019-01-01' }] }),
    ).toMatch(/F-1.*2020-01-01|2020-01-01.*F-1/s);
  });

  it('settings out of range are refused', async () => {
    const folder = await FolderWorld.open();
    await expect(
      inWords(
        folder.world.import({
          intervals: [{ unitKind: 'fork', serviceKind: 'lower-leg', terrainHours: -5 }],
        }),
      ),
    ).rejects.toThrow(/terrainHours/);
    await expect(
      inWords(folder.world.import({ workshop: { ...DOCUMENT.workshop, noticeDays: 4000 } })),
    ).rejects.toThrow(/noticeDays/);
  });
});
