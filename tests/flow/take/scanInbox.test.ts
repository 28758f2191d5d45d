/** The drop folder, on a real one: nothing in it is moved, and nothing is taken that is not whole. */

import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  closeSync,
  cpSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { ServiceError } from '../../../src/errors.js';
import { listTray } from '../../../src/flow/rides/listTray.js';
import { decodeFile } from '../../../src/flow/take/decodeFile.js';
import { type ScanDeps, scanInboxOnce } from '../../../src/flow/take/scanInbox.js';
import { allRides } from '../../fixtures/allRides.js';
import { type RideFitOptions, rideFit, straightRide } from '../../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { scratchFolder } from '../../fixtures/program.js';
import { zipFile } from '../../fixtures/zipFile.js';
import { DOCUMENT } from '../flowWorld.js';
import { FolderWorld, gpx } from './folderWorld.js';

const at = (time: string): number => Date.parse(time);

describe('when a file is ready', () => {
  it('one that is whole is taken at once, and a second scan finds nothing new', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    expect(await folder.scan()).toBe(true);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect(await folder.scan()).toBe(false);
    expect(folder.told()).toContain('b1/a.gpx: counted');
  });

  it('an indoor ride is told as one that adds no hours, alone and in an archive', async () => {
    const folder = await FolderWorld.open();
    const indoors = gpx('2025-06-10T08:00:00Z', 10, 'indoor_cycling');
    folder.put('r1/b1/a.gpx', indoors);
    folder.put(
      'r1/b1/all.zip',
      zipFile([
        { name: 'a.gpx', bytes: indoors },
        { name: 'b.gpx', bytes: gpx('2025-06-11T08:00:00Z') },
      ]),
    );
    await folder.scan();
    expect(folder.told()).toContain('b1/a.gpx: ridden indoors, no hours added');
    expect(folder.told()).toContain('b1/all.zip: ridden indoors, no hours added: 1; counted: 1');
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
  });

  it('a writer that stalls in mid-file is waited for, and only what stands still for five minutes is taken as damaged', async () => {
    const folder = await FolderWorld.open();
    const whole = gpx('2025-06-10T08:00:00Z');
    folder.put('r1/b1/a.gpx', whole.subarray(0, whole.length / 2));
    await folder.scan();
    folder.world.now = '2025-06-18T12:00:30Z';
    expect(await folder.scan()).toBe(false);
    expect(await folder.movingHours()).toBe(0);
    folder.put('r1/b1/a.gpx', whole);
    expect(await folder.scan()).toBe(true);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);

    folder.put('r1/b1/b.gpx', gpx('2025-06-11T08:00:00Z').subarray(0, 40_000));
    await folder.scan();
    folder.world.now = '2025-06-18T12:05:29Z';
    expect(await folder.scan()).toBe(false);
    folder.world.now = '2025-06-18T12:05:31Z';
    expect(await folder.scan()).toBe(true);
    expect(folder.told()).toMatch(/b1\/b\.gpx: counted\. The file breaks off/);
    await folder.world.expectSound();
  });

  it('dotfiles and unfinished copies are left alone', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/.a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/a.gpx.part', gpx('2025-06-10T08:00:00Z'));
    expect([await folder.scan(), await folder.rows()]).toEqual([false, []]);
  });
});

describe('a real writer', () => {
  it('that stalls between two pieces is waited for, and its file is counted once', async () => {
    const folder = await FolderWorld.open();
    const whole = gpx('2025-06-10T08:00:00Z');
    const full = folder.put('r1/b1/slow.gpx', '');
    const file = openSync(full, 'w');
    const outcomes: boolean[] = [];
    for (let piece = 0; piece < 4; piece++) {
      writeSync(file, whole.subarray((piece * whole.length) / 4, ((piece + 1) * whole.length) / 4));
      if (piece === 3) break;
      await later(300);
      outcomes.push(await folder.scan());
    }
    closeSync(file);
    // It is told of once that it is being copied.
    expect(outcomes).toEqual([true, false, false]);
    expect(folder.told()).toMatch(/^b1\/slow\.gpx: It is still being copied/m);
    await folder.scan();
    expect(folder.told()).toMatch(/^b1\/slow\.gpx: counted$/m);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect((await folder.deps.store.read((tx) => allRides(tx))).map((ride) => ride.damage)).toEqual([null]);
  });

  it('a clock that is put back makes no file wait for it', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/note.txt', 'no ride');
    await folder.scan();
    folder.world.now = '2025-06-17T12:00:00Z';
    await folder.scan();
    folder.world.now = '2025-06-17T12:05:01Z';
    expect(await folder.scan()).toBe(true);
    expect(folder.told()).toMatch(/^note\.txt: set aside/m);
  });
});

describe('many files', () => {
  /** Every text that the rider finds in the folder while the scan is under way. */
  async function textsDuring(folder: FolderWorld): Promise<string[]> {
    const texts: string[] = [];
    const { inbox } = folder.deps;
    const tell: ScanDeps['inbox']['tell'] = async (name, told) => {
      const failed = await inbox.tell(name, told);
      texts.push(folder.told(name));
      return failed;
    };
    await scanInboxOnce({ ...folder.deps, inbox: { ...inbox, scan: () => inbox.scan(), tell } });
    return texts;
  }
  const note = (n: number): Uint8Array => textBytes(`no ride ${n}`);

  it('in an archive are told of on the way, and at the end as they are', async () => {
    const folder = await FolderWorld.open();
    const ride = { name: 'ride.gpx', bytes: gpx('2025-06-10T08:00:00Z') };
    const others = Array.from({ length: 449 }, (_, n) => ({ name: `n${n}.fit`, bytes: note(n) }));
    folder.put('r1/b1/all.zip', zipFile([ride, ...others]));
    const texts = await textsDuring(folder);
    expect(texts.slice(0, -1).map((text) => /So far \d+ of the files/.exec(text)?.[0])).toEqual([
      'So far 200 of the files',
      'So far 400 of the files',
    ]);
    expect(texts.at(-1)).toMatch(/all\.zip: counted: 1; set aside: 449/);
    expect(texts.at(-1)).not.toContain('So far');
    expect(await folder.scan()).toBe(false);
  });

  it('each by itself are told of on the way', async () => {
    const folder = await FolderWorld.open();
    for (let n = 0; n < 210; n += 1)
      folder.put(`r1/b1/${String(n).padStart(3, '0')}.gpx`, gpxText([{ segments: [[{ lat: 1, lon: n }]] }]));
    const texts = await textsDuring(folder);
    expect(texts.map((text) => text.match(/b1\/\d+\.gpx: /g)?.length)).toEqual([200, 210]);
  });
});

describe('what changes', () => {
  it('what is settled is never opened again while nothing changes', async () => {
    const folder = await FolderWorld.open();
    for (let i = 0; i < 20; i++)
      folder.put(`r1/b1/${i}.gpx`, gpx(`2025-05-${String(i + 1).padStart(2, '0')}T08:00:00Z`, 2));
    await folder.scan();
    const first = folder.opened.length;
    for (let i = 0; i < 5; i++) expect(await folder.scan()).toBe(false);
    expect([first, folder.opened.length]).toEqual([40, 40]);
    folder.put('r1/b1/7.gpx', gpx('2025-06-07T08:00:00Z', 2));
    await folder.scan();
    expect(folder.opened.slice(40)).toEqual(['r1/b1/7.gpx', 'r1/b1/7.gpx']);
  });

  it('a replaced file of the same size and time of change is a new file', async () => {
    const folder = await FolderWorld.open();
    const full = folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    const old = new Date('2025-06-12T00:00:00Z');
    utimesSync(full, old, old);
    await folder.scan();
    await later(20);
    unlinkSync(full);
    folder.put('r1/b1/a.gpx', gpx('2025-06-11T08:00:00Z'));
    utimesSync(full, old, old);
    expect(await folder.scan()).toBe(true);
    expect(await folder.movingHours()).toBeCloseTo(2 / 6, 3);
  });

  it('a replaced file is a new file, and the old ride stays', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    folder.put('r1/b1/a.gpx', gpx('2025-06-11T08:00:00Z', 20));
    expect(await folder.scan()).toBe(true);
    expect(await folder.movingHours()).toBeCloseTo(0.5, 3);
  });

  it('a replaced folder is looked at anew, and what was in it before still counts', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    renameSync(join(folder.root, 'r1'), join(dirname(folder.root), 'old'));
    folder.put('r1/b1/b.gpx', gpx('2025-06-11T08:00:00Z'));
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(2 / 6, 3);
    cpSync(join(dirname(folder.root), 'old'), join(folder.root, 'r1'), { recursive: true });
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(2 / 6, 3);
    expect(folder.told()).toMatch(/b1\/a\.gpx: counted before, nothing added/);
  });

  it('an unmounted folder is not deleted files: it is said, once, and forgotten when it is back', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    const away = `${folder.root}-away`;
    renameSync(folder.root, away);
    expect(await folder.scan()).toBe(false);
    await folder.scan();
    const missing = (await folder.rows()).filter((row) => row.code === 'folder-missing');
    expect(missing.map((row) => row.path)).toEqual(['']);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    renameSync(away, folder.root);
    await folder.scan();
    expect((await folder.rows()).map((row) => row.path)).toEqual(['r1/b1/a.gpx']);
    await folder.world.expectSound();
  });

  it('nor is the empty place where a disk is mounted', async () => {
    const folder = await FolderWorld.open();
    expect([await folder.scan(), await folder.rows()]).toEqual([false, []]);
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    const away = `${folder.root}-away`;
    renameSync(folder.root, away);
    mkdirSync(folder.root);
    await folder.scan();
    expect((await folder.rows()).map((row) => [row.path, row.code])).toEqual([
      ['', 'folder-empty'],
      ['r1/b1/a.gpx', null],
    ]);
    rmSync(folder.root, { recursive: true });
    renameSync(away, folder.root);
    const opened = folder.opened.length;
    await folder.scan();
    expect((await folder.rows()).map((row) => row.path)).toEqual(['r1/b1/a.gpx']);
    expect(folder.opened.length).toBe(opened);
  });

  it('what the rider took out of the folder is no longer told of, and still counts', async () => {
    const folder = await FolderWorld.open();
    const full = folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/b1/b.gpx', gpx('2025-06-11T08:00:00Z'));
    await folder.scan();
    unlinkSync(full);
    await folder.scan();
    expect((await folder.rows()).map((row) => row.path)).toEqual(['r1/b1/b.gpx']);
    expect(await folder.movingHours()).toBeCloseTo(2 / 6, 3);
  });
});

describe('whose and which bike', () => {
  it('a folder that is no bike we know is asked about, and settled by itself once the bike is entered', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b2/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    expect(folder.told()).toMatch(/^b2\/a\.gpx: waiting for an answer\. Say which bike/m);
    expect(await folder.movingHours()).toBe(0);
    await folder.world.import({
      bikes: [{ id: 'b2', rider: 'r1', name: 'Second bike', type: 'trail' }],
      units: [{ tag: 'F-2', unitKind: 'fork', history: 'new' }],
      fittings: [{ unit: 'F-2', bike: 'b2', from: '2020-01-01' }],
    });
    expect(await folder.scan()).toBe(true);
    expect(await folder.movingHours('F-2')).toBeCloseTo(1 / 6, 3);
    expect([await folder.movingHours(), await folder.scan()]).toEqual([0, false]);
    await folder.world.expectSound();
  });

  it('a folder that is called like no bike is named with the question', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b7/a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/2025/b.gpx', gpx('2025-06-11T08:00:00Z'));
    await folder.scan();
    expect(folder.told()).toMatch(
      /a\.gpx: waiting for an answer\. .* The folder “b7” is no bike’s id or name\.$/m,
    );
    expect(folder.told()).toMatch(/b\.gpx: counted$/m);
  });

  it('a rider whom nobody knows yet is asked about, and found once entered', async () => {
    const folder = await FolderWorld.open();
    folder.put('r9/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    expect(folder.told('r9')).toMatch(
      /^a\.gpx: waiting for an answer\. The workshop has to say whose it is\. The folder “r9” is no rider’s id\.$/m,
    );
    await folder.world.import({
      riders: [{ id: 'r9', name: 'Rider Nine', email: 'r9@example.org' }],
      bikes: [{ id: 'b9', rider: 'r9', name: 'Ninth bike', type: 'trail' }],
      units: [{ tag: 'F-9', unitKind: 'fork', history: 'new' }],
      fittings: [{ unit: 'F-9', bike: 'b9', from: '2020-01-01' }],
    });
    await folder.scan();
    expect(await folder.movingHours('F-9')).toBeCloseTo(1 / 6, 3);
    await folder.world.expectSound();
  });

  it('a bike’s folder may bear its name, and a folder by date names none', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/bike ONE/a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/2025-06/b.gpx', gpx('2025-06-11T08:00:00Z'));
    await folder.scan();
    expect(folder.told()).toMatch(/^bike ONE\/a\.gpx: counted$/m);
    expect(folder.told()).toMatch(/^2025-06\/b\.gpx: counted$/m);
    const rides = await folder.deps.store.read((tx) => allRides(tx));
    expect(rides.map((ride) => ride.bikeRule)).toEqual(['subfolder', 'only-suspended']);
  });

  it('a whole recorder copied by USB: its rides count without a question, and the rest of it is said to be no ride', async () => {
    const folder = await FolderWorld.open();
    const made = (start: string, rest: Partial<RideFitOptions> = {}) =>
      rideFit({
        samples: straightRide(at(start), 601),
        sessions: [{ startMs: at(start), sport: 2 }],
        ...rest,
      }).bytes();
    const noSamples = { samples: [], sessions: [] };
    const own = 'r1/Recorder/Internal';
    // FIT SDK profile, type `file`: 2 settings, 3 sport, 6 course, 10 totals.
    folder.put(`${own}/Rides/1.fit`, made('2025-06-01T08:00:00Z'));
    folder.put(`${own}/Rides/2.fit`, made('2025-06-02T08:00:00Z'));
    folder.put(
      `${own}/Rides/run.fit`,
      made('2025-06-03T08:00:00Z', { sessions: [{ startMs: at('2025-06-03T08:00:00Z'), sport: 1 }] }),
    );
    folder.put(`${own}/Settings/settings.fit`, made('2025-06-01T08:00:00Z', { ...noSamples, fileType: 2 }));
    folder.put(`${own}/Sports/bike.fit`, made('2025-06-01T08:00:00Z', { ...noSamples, fileType: 3 }));
    folder.put(`${own}/Courses/loop.fit`, made('2025-06-01T08:00:00Z', { fileType: 6 }));
    folder.put(`${own}/Totals/totals.fit`, made('2025-06-01T08:00:00Z', { ...noSamples, fileType: 10 }));
    folder.put('r1/Recorder/device.xml', '<?xml version="1.0"?><Device/>');
    folder.put('r1/Recorder/.trash/old.fit', made('2025-06-04T08:00:00Z'));
    await folder.scan();
    folder.world.now = '2025-06-18T12:06:00Z';
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(2 / 6, 3);
    expect(await folder.deps.store.read(listTray)).toEqual([]);
    const told = folder.told();
    const line = (path: string): string => told.split(`\nRecorder/${path}: `)[1]?.split('\n')[0] ?? '';
    expect([line('Internal/Rides/1.fit'), line('Internal/Rides/2.fit')]).toEqual(['counted', 'counted']);
    for (const path of ['Rides/run', 'Settings/settings', 'Sports/bike', 'Courses/loop', 'Totals/totals'])
      expect(line(`Internal/${path}.fit`), path).toMatch(/^not a ride\. \w/);
    expect(line('device.xml')).toMatch(/^set aside\. It is no ride file: neither FIT nor GPX nor TCX/);
    expect(told).not.toContain('.trash');
    await folder.world.expectSound();
  });

  it('a folder of a bike may sort its files by date, and still names the bike', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b9/2025/06/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    expect(folder.told()).toMatch(/^b9\/2025\/06\/a\.gpx: waiting for an answer\. Say which bike/m);
  });

  it('one file in two bikes’ folders contradicts itself and is asked about, in whatever order', async () => {
    for (const names of [
      ['b1', 'b2'],
      ['b2', 'b1'],
    ]) {
      const folder = await FolderWorld.open({
        ...DOCUMENT,
        bikes: [...DOCUMENT.bikes, { id: 'b2', rider: 'r1', name: 'Second bike', type: 'trail' }],
      });
      for (const name of names) {
        folder.put(`r1/${name}/a.gpx`, gpx('2025-06-10T08:00:00Z'));
        await folder.scan();
      }
      expect(await folder.movingHours()).toBe(0);
      expect((await folder.deps.store.read(listTray)).map((row) => row.code)).toEqual(['which-bike']);
      await folder.world.expectSound();
    }
  });
});

describe('a fleet’s bike', () => {
  const TEAM = {
    ...DOCUMENT,
    fleets: [{ id: 't1', name: 'Our team' }],
    bikes: [...DOCUMENT.bikes, { id: 'tb1', fleet: 't1', name: 'Race bike 1', type: 'gravity' }],
  };

  it.each(['t1/tb1', 'tb1', 'tb1/2025'])('is meant by the folder %s', async (place) => {
    const folder = await FolderWorld.open(TEAM);
    folder.put(`${place}/a.gpx`, gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    const bikeId = await folder.world.id('bike', 'tb1');
    expect(await folder.deps.store.read((tx) => allRides(tx))).toMatchObject([
      { bikeId, bikeRule: 'subfolder', question: null },
    ]);
  });

  it('a rider’s own bike alone is nobody’s folder still', async () => {
    const folder = await FolderWorld.open(TEAM);
    folder.put('b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    expect((await folder.deps.store.read(listTray)).map((row) => row.code)).toEqual(['who']);
  });
});

describe('what is no plain file', () => {
  it('a name that is no text on this system is said, and the others are taken', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    const odd = Buffer.concat([
      Buffer.from(`${folder.root}/r1/odd`),
      Buffer.from([0xff, 0xfe]),
      Buffer.from('.gpx'),
    ]);
    writeFileSync(odd, gpx('2025-06-11T08:00:00Z'));
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect(folder.told()).toMatch(/^odd.*\.gpx: set aside\. Its name cannot be read on this system/m);
    unlinkSync(odd);
  });

  it('a folder beyond any depth of exports is said', async () => {
    const folder = await FolderWorld.open();
    folder.put(`r1/${'deep/'.repeat(8)}a.gpx`, gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    expect(folder.told()).toMatch(/deep: set aside\. This folder is nested too deep/);
  });

  it('a link, a pipe and a link to a folder are not followed, and said', async () => {
    const folder = await FolderWorld.open();
    const outside = join(scratchFolder(), 'outside.gpx');
    writeFileSync(outside, gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/b1/plain.gpx', gpx('2025-06-12T08:00:00Z'));
    symlinkSync(outside, join(folder.root, 'r1', 'link.gpx'));
    symlinkSync(dirname(outside), join(folder.root, 'r1', 'folder'));
    execFileSync('mkfifo', [join(folder.root, 'r1', 'pipe.gpx')]);
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    for (const name of ['link.gpx', 'folder', 'pipe.gpx'])
      expect(folder.told()).toMatch(new RegExp(`^${name}: set aside\\. .*not followed`, 'm'));
    expect(await folder.scan()).toBe(false);
  });

  it('an odd name does no harm, and is told by its characters’ numbers', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/ride\u202exgp.\u0007fit', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect(folder.told()).toContain('b1/ride\\u{202e}xgp.\\u{7}fit: counted');
  });
});

describe('one that fails', () => {
  it('by a decoder that breaks on it is set aside with the reason, and the others are taken', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/b1/b.gpx', gpx('2025-06-11T08:00:00Z'));
    const { reader } = folder.deps;
    const breaking = (): never => {
      throw new TypeError('cannot read properties of undefined');
    };
    const decode: typeof reader.decode = async (file, now) =>
      file.name.endsWith('a.gpx') ? decodeFile(breaking, file, now) : reader.decode(file, now);
    await scanInboxOnce({ ...folder.deps, reader: { ...reader, decode } });
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect(folder.told()).toMatch(/^b1\/a\.gpx: set aside\. It is damaged, or does not say when/m);
    expect(await folder.scan()).toBe(false);
  });

  it('by a fault outside the decoder is told of and tried again, and the others are taken', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/b1/b.gpx', gpx('2025-06-11T08:00:00Z'));
    const { reader } = folder.deps;
    const open: typeof reader.open = (path, name) => {
      if (path.endsWith('a.gpx')) throw new RangeError('out of bounds');
      return reader.open(path, name);
    };
    const logged: unknown[] = [];
    const log = { ...folder.deps.log, error: (what: unknown) => void logged.push(what) };
    const deps = { ...folder.deps, log, reader: { ...reader, open } };
    await scanInboxOnce(deps);
    await scanInboxOnce(deps);
    expect(folder.told()).toMatch(
      /^b1\/a\.gpx: It could not be taken because of a fault in the program.*looked at again soon\.$/m,
    );
    expect(logged).toEqual([
      expect.objectContaining({ error: expect.objectContaining({ message: 'out of bounds' }) }),
    ]);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(2 / 6, 3);
  });

  it('a text that cannot be written is said on the page, tried again, and holds up nothing', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    mkdirSync(join(folder.root, 'r1', 'what happened.txt'));
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    const said = (await folder.rows()).find((row) => row.code === 'not-told');
    expect([said?.path, said?.outcome]).toEqual(['r1/what happened.txt', 'set-aside']);
    rmSync(join(folder.root, 'r1', 'what happened.txt'), { recursive: true });
    await folder.scan();
    expect(folder.told()).toContain('b1/a.gpx: counted');
    expect((await folder.rows()).map((row) => row.code)).toEqual([null]);
  });

  it.skipIf(process.getuid?.() === 0)(
    'a folder that may not be read is said, and what was in it is not gone (root may read everything)',
    async () => {
      const folder = await FolderWorld.open();
      folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
      await folder.scan();
      chmodSync(join(folder.root, 'r1', 'b1'), 0);
      await folder.scan();
      chmodSync(join(folder.root, 'r1', 'b1'), 0o755);
      expect((await folder.rows()).map((row) => [row.path, row.code])).toEqual([
        ['r1/b1', 'unreadable'],
        ['r1/b1/a.gpx', null],
      ]);
    },
  );

  it('holds up no other, is told of, and is taken once it can be', async () => {
    const folder = await FolderWorld.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/b1/b.gpx', gpx('2025-06-11T08:00:00Z'));
    const { keep } = folder.deps.originals;
    let full = true;
    const deps: ScanDeps = {
      ...folder.deps,
      reader: {
        ...folder.deps.reader,
        isWhole: async (path) => {
          if (full && path.endsWith('a.gpx')) throw new ServiceError('disk-failed', 'EACCES');
          return folder.deps.reader.isWhole(path);
        },
      },
      originals: { keep },
    };
    await scanInboxOnce(deps);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect(folder.told()).toMatch(
      /b1\/a\.gpx: It cannot be read or kept right now\. It is looked at again soon\./,
    );
    expect(await scanInboxOnce(deps)).toEqual({ isNews: false, isMore: false, left: 0 });
    full = false;
    expect(await scanInboxOnce(deps)).toEqual({ isNews: true, isMore: false, left: 0 });
    expect(await folder.movingHours()).toBeCloseTo(2 / 6, 3);
  });
});

it('forty mixed files: each is named with what became of it, and nothing was moved or changed', async () => {
  const folder = await FolderWorld.open();
  const day = (i: number) => `2025-05-${String(i + 1).padStart(2, '0')}T08:00:00Z`;
  for (let i = 0; i < 20; i++) folder.put(`r1/b1/ride ${i}.gpx`, gpx(day(i)));
  for (let i = 0; i < 5; i++) folder.put(`r1/twin ${i}.gpx`, gpx(day(i)));
  for (let i = 0; i < 5; i++) folder.put(`r1/note ${i}.txt`, `Shopping list ${i}`);
  for (let i = 0; i < 3; i++) folder.put(`r1/empty ${i}.fit`, '');
  for (let i = 0; i < 3; i++)
    folder.put(
      `r1/run ${i}.gpx`,
      textBytes(gpxText([{ type: 'running', segments: [straightTrack(at(day(i)), 300)] }])),
    );
  folder.put(
    'r1/b1/ride.fit',
    rideFit({
      samples: straightRide(at(day(24)), 600),
      sessions: [{ startMs: at(day(24)), sport: 2 }],
    }).bytes(),
  );
  folder.put(
    'r1/no times.gpx',
    textBytes(gpxText([{ segments: [straightTrack(at(day(0)), 60).map(({ time: _, ...point }) => point)] }])),
  );
  folder.put(
    'r1/export.zip',
    zipFile([
      { name: 'one.gpx', bytes: gpx(day(25)) },
      { name: 'two.gpx', bytes: gpx(day(26)) },
    ]),
  );
  folder.put(
    'r1/waypoints.gpx',
    textBytes(
      '<?xml version="1.0"?><gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="1" lon="2"/></gpx>',
    ),
  );
  const old = new Date('2025-06-01T00:00:00Z');
  const names = (readdirSync(folder.root, { recursive: true, encoding: 'utf8' }) as string[])
    .filter((name) => statSync(join(folder.root, name)).isFile())
    .sort();
  expect(names).toHaveLength(40);
  for (const name of names) utimesSync(join(folder.root, name), old, old);
  const before = names.map((name) => readFileSync(join(folder.root, name)).toString('base64'));
  await folder.scan();
  folder.world.now = '2025-06-18T12:06:00Z';
  await folder.scan();
  const told = folder.told();
  for (const name of names) expect(told).toContain(`\n${name.slice('r1/'.length)}: `);
  expect(told).toMatch(/^twin 3\.gpx: counted before, nothing added$/m);
  expect(told).toMatch(/^note 2\.txt: set aside\. .*FIT/m);
  expect(told).toMatch(/^empty 1\.fit: set aside\. .*empty/m);
  expect(told).toMatch(/^run 0\.gpx: not a ride\. /m);
  expect(told).toMatch(/^no times\.gpx: waiting for an answer\. .*say when it was ridden/m);
  expect(told).toMatch(/^export\.zip: counted: 2$/m);
  expect(told).toMatch(/^waypoints\.gpx: not a ride\. /m);
  expect(names.map((name) => readFileSync(join(folder.root, name)).toString('base64'))).toEqual(before);
  for (const name of names) expect(statSync(join(folder.root, name)).mtimeMs).toBe(old.getTime());
  expect((await folder.deps.store.read(listTray)).map((row) => row.code)).toEqual(['no-times']);
  await folder.world.expectSound();
  rmSync(folder.root, { recursive: true });
});
