/** The drop folder, on a real one: nothing in it is moved, and nothing is taken that is not whole. */
import { execFileSync } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ServiceError } from '../../src/errors.js';
import { listTray } from '../../src/flow/listTray.js';
import { type ScanDeps, scanInboxOnce } from '../../src/flow/scanInbox.js';
import { openDropFolder } from '../../src/inbox/dropFolder.js';
import { rideFit, straightRide } from '../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { scratchFolder } from '../fixtures/program.js';
import { zipFile } from '../fixtures/zipFile.js';
import { FlowWorld } from './flowWorld.js';

const NOON = '2025-06-18T12:00:00Z';
const at = (time: string): number => Date.parse(time);
const gpx = (start: string, minutes = 10): Uint8Array =>
  textBytes(gpxText([{ type: 'cycling', segments: [straightTrack(at(start), minutes * 60 + 1)] }]));

class Folder {
  private constructor(
    readonly root: string,
    readonly world: FlowWorld,
    readonly deps: ScanDeps,
  ) {}

  static async open(): Promise<Folder> {
    const root = join(scratchFolder(), 'inbox');
    const world = await FlowWorld.open(NOON);
    return new Folder(root, world, { ...world.deps, inbox: await openDropFolder(root) });
  }

  put(path: string, bytes: Uint8Array | string): string {
    const full = join(this.root, path);
    mkdirSync(dirname(full), { recursive: true });
    writeFileSync(full, bytes);
    return full;
  }

  scan = (): Promise<boolean> => scanInboxOnce(this.deps);
  told = (): string => readFileSync(join(this.root, 'r1', 'what happened.txt'), 'utf8');
  rows = () => this.deps.store.read((tx) => tx.inbox.list());
  async movingHours(): Promise<number> {
    return (await this.world.due('F-1')).movingHoursSince;
  }
}

describe('when a file is ready', () => {
  it('one that is whole is taken at once, and a second scan finds nothing new', async () => {
    const folder = await Folder.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    expect(await folder.scan()).toBe(true);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect(await folder.scan()).toBe(false);
    expect(folder.told()).toContain('b1/a.gpx: counted');
  });

  it('a writer that stalls in mid-file is waited for, and only what stands still for five minutes is taken as damaged', async () => {
    const folder = await Folder.open();
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
    expect(folder.told()).toMatch(/b1\/b\.gpx: counted\. The file is damaged/);
    await folder.world.expectSound();
  });

  it('dotfiles and unfinished copies are left alone', async () => {
    const folder = await Folder.open();
    folder.put('r1/.a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/a.gpx.part', gpx('2025-06-10T08:00:00Z'));
    expect([await folder.scan(), await folder.rows()]).toEqual([false, []]);
  });
});

describe('what changes', () => {
  it('a replaced file is a new file, and the old ride stays', async () => {
    const folder = await Folder.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    folder.put('r1/b1/a.gpx', gpx('2025-06-11T08:00:00Z', 20));
    expect(await folder.scan()).toBe(true);
    expect(await folder.movingHours()).toBeCloseTo(0.5, 3);
  });

  it('a replaced folder is looked at anew, and what was in it before still counts', async () => {
    const folder = await Folder.open();
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
    const folder = await Folder.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    const away = `${folder.root}-away`;
    renameSync(folder.root, away);
    expect(await folder.scan()).toBe(false);
    await folder.scan();
    const missing = (await folder.rows()).filter((row) => row.code === 'folder-missing');
    expect(missing.map((row) => row.reason)).toEqual([
      expect.stringMatching(/not there.*Nothing that was counted is lost/),
    ]);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    renameSync(away, folder.root);
    await folder.scan();
    expect((await folder.rows()).map((row) => row.path)).toEqual(['r1/b1/a.gpx']);
    await folder.world.expectSound();
  });
});

describe('what is no plain file', () => {
  it('a link, a pipe and a link to a folder are not followed, and said', async () => {
    const folder = await Folder.open();
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
    const folder = await Folder.open();
    folder.put('r1/b1/ride\u202exgp.\u0007fit', gpx('2025-06-10T08:00:00Z'));
    await folder.scan();
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect(folder.told()).toContain('b1/ride\\u{202e}xgp.\\u{7}fit: counted');
  });
});

describe('one that fails', () => {
  it('holds up no other, is told of, and is taken once it can be', async () => {
    const folder = await Folder.open();
    folder.put('r1/b1/a.gpx', gpx('2025-06-10T08:00:00Z'));
    folder.put('r1/b1/b.gpx', gpx('2025-06-11T08:00:00Z'));
    const { keep } = folder.deps.originals;
    let full = true;
    const deps: ScanDeps = {
      ...folder.deps,
      reader: {
        ...folder.deps.reader,
        isWhole: async (path) => {
          if (full && path.endsWith('a.gpx')) throw new ServiceError('disk-failed', 'read', 'EACCES');
          return folder.deps.reader.isWhole(path);
        },
      },
      originals: { keep },
    };
    await scanInboxOnce(deps);
    expect(await folder.movingHours()).toBeCloseTo(1 / 6, 3);
    expect(folder.told()).toMatch(
      /b1\/a\.gpx: The file cannot be read or kept: EACCES .*; looked at again soon/,
    );
    expect(await scanInboxOnce(deps)).toBe(false);
    full = false;
    expect(await scanInboxOnce(deps)).toBe(true);
    expect(await folder.movingHours()).toBeCloseTo(2 / 6, 3);
  });
});

it('forty mixed files: each is named with what became of it, and nothing was moved or changed', async () => {
  const folder = await Folder.open();
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
  expect(told).toMatch(/^no times\.gpx: waiting for an answer\. .*When was it ridden/m);
  expect(told).toMatch(/^export\.zip: 2 counted$/m);
  expect(told).toMatch(/^waypoints\.gpx: not a ride\. /m);
  expect(names.map((name) => readFileSync(join(folder.root, name)).toString('base64'))).toEqual(before);
  for (const name of names) expect(statSync(join(folder.root, name)).mtimeMs).toBe(old.getTime());
  expect((await folder.deps.store.read(listTray)).map((row) => row.code)).toEqual(['no-times']);
  await folder.world.expectSound();
  rmSync(folder.root, { recursive: true });
});
