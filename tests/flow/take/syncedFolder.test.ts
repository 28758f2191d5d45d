/** A folder that others keep alike with the drop folder: by real tools, with all that they leave and do. */
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { scratchFolder } from '../../fixtures/program.js';
import { hasRclone, hasSyncthing, keepAlike, leftOut, serveWebdav, until } from '../../fixtures/syncTools.js';
import { FolderWorld, gpx, NOON } from './folderWorld.js';

const hours = async (folder: FolderWorld): Promise<number> => Math.round((await folder.movingHours()) * 60);

it.runIf(hasSyncthing)(
  `a folder kept alike by Syncthing: copies and renames count each ride once, and it is told at the rider’s end${leftOut(hasSyncthing, 'syncthing')}`,
  async () => {
    const folder = await FolderWorld.open();
    const there = join(folder.root, 'r1');
    const own = join(scratchFolder(), 'rides');
    await keepAlike([own, there]);
    writeFileSync(join(own, 'a.gpx'), gpx('2025-06-10T08:00:00Z', 10));
    mkdirSync(join(own, '2025-06'));
    writeFileSync(join(own, '2025-06', 'b.gpx'), gpx('2025-06-11T08:00:00Z', 20));
    // A clock that goes ahead says nothing of when a ride was.
    const ahead = new Date(Date.now() + 400 * 86_400_000);
    utimesSync(join(own, 'a.gpx'), ahead, ahead);
    await until(
      'both came',
      () => existsSync(join(there, 'a.gpx')) && existsSync(join(there, '2025-06/b.gpx')),
    );
    await folder.scan();
    expect(await hours(folder)).toBe(30);
    // The rider finds in the own folder what became of them.
    await until('it is told there', () => existsSync(join(own, 'what happened.txt')));
    expect(readFileSync(join(own, 'what happened.txt'), 'utf8')).toContain('a.gpx: counted');
    renameSync(join(own, 'a.gpx'), join(own, 'morning.gpx'));
    await until(
      'it was renamed',
      () => existsSync(join(there, 'morning.gpx')) && !existsSync(join(there, 'a.gpx')),
    );
    await folder.scan();
    expect(await hours(folder)).toBe(30);
  },
  120_000,
);

it.runIf(hasSyncthing)(
  `a folder kept alike by Syncthing: what both sides changed is one ride each, and what its rider deletes stays counted${leftOut(hasSyncthing, 'syncthing')}`,
  async () => {
    const folder = await FolderWorld.open();
    const there = join(folder.root, 'r1');
    const own = join(scratchFolder(), 'rides');
    const alike = await keepAlike([own, there]);
    writeFileSync(join(own, 'a.gpx'), gpx('2025-06-10T08:00:00Z', 10));
    await until('it came', () => existsSync(join(there, 'a.gpx')));
    await folder.scan();
    await until('it is told there', () => existsSync(join(own, 'what happened.txt')));
    // While the line is cut both sides write another ride under that name, and the rider writes into the text as well.
    await alike.part();
    writeFileSync(join(own, 'a.gpx'), gpx('2025-06-11T08:00:00Z', 20));
    writeFileSync(join(there, 'a.gpx'), gpx('2025-06-12T08:00:00Z', 40));
    writeFileSync(join(own, 'what happened.txt'), 'mine');
    await folder.scan();
    expect(await hours(folder)).toBe(50);
    alike.join();
    const conflicts = (at: string): string[] => readdirSync(at).filter((name) => /sync-conflict/.test(name));
    const isBoth = (names: string[]): boolean =>
      ['a.', 'what'].every((x) => names.some((n) => n.startsWith(x)));
    await until('both say so', () => isBoth(conflicts(own)) && isBoth(conflicts(there)));
    await folder.scan();
    expect(await hours(folder)).toBe(70);
    const copy = conflicts(there).find((name) => name.startsWith('a.'))!;
    expect(folder.line(copy)).toMatch(/^counted/);
    // The text is no ride file, whatever it is called.
    expect(folder.told()).not.toContain('what happened');
    for (const name of [copy, 'a.gpx']) rmSync(join(own, name));
    await until('they are deleted', () => ['a.gpx', copy].every((name) => !existsSync(join(there, name))));
    await folder.scan();
    expect(await hours(folder)).toBe(70);
    // What comes back, as from a bin, adds nothing.
    writeFileSync(join(own, 'back.gpx'), gpx('2025-06-12T08:00:00Z', 40));
    await until('it came back', () => existsSync(join(there, 'back.gpx')));
    await folder.scan();
    expect(await hours(folder)).toBe(70);
    await folder.world.expectSound();
  },
  120_000,
);

it.runIf(hasRclone)(
  `a folder written over WebDAV by rclone: one that is killed halfway leaves no half a ride, and again adds nothing${leftOut(hasRclone, 'rclone')}`,
  async () => {
    const folder = await FolderWorld.open();
    const there = join(folder.root, 'r1');
    const { run, begin } = await serveWebdav(there);
    const own = scratchFolder();
    writeFileSync(join(own, 'a.gpx'), gpx('2025-06-10T08:00:00Z', 10));
    run('copy', own, 'there:');
    await folder.scan();
    expect(await hours(folder)).toBe(10);
    // A large one, killed on its way.
    writeFileSync(join(own, 'long.gpx'), gpx('2025-06-11T08:00:00Z', 240));
    const size = statSync(join(own, 'long.gpx')).size;
    const cut = begin('copy', own, 'there:', '--bwlimit', `${Math.round(size / 8 / 1024)}k`);
    await later(1500);
    cut.kill('SIGKILL');
    await folder.scan();
    const half = existsSync(join(there, 'long.gpx')) ? statSync(join(there, 'long.gpx')).size : 0;
    expect(half).toBeLessThan(size);
    expect(await hours(folder)).toBe(10);
    run('copy', own, 'there:');
    await folder.scan();
    expect(await hours(folder)).toBe(250);
    // Again, under another name, and away.
    run('copy', own, 'there:2025-06');
    await folder.scan();
    run('moveto', 'there:a.gpx', 'there:morning.gpx');
    run('deletefile', 'there:long.gpx');
    await folder.scan();
    expect(await hours(folder)).toBe(250);
    // What became of them is fetched as any file is.
    run('copy', 'there:what happened.txt', own);
    expect(readFileSync(join(own, 'what happened.txt'), 'utf8')).toContain('morning.gpx: counted');
    await folder.world.expectSound();
  },
  120_000,
);

it('a copy that stands still half-way counts once, as what it is at last, under whatever name it was begun', async () => {
  const folder = await FolderWorld.open();
  const whole = gpx('2025-06-10T08:00:00Z', 30);
  for (const name of [
    '.syncthing.a.gpx.tmp',
    'a.gpx.partial',
    '~a.gpx',
    'a.gpx.part',
    'a.gpx.filepart',
    'a (1).gpx',
  ])
    folder.put(`r1/${name}`, whole.subarray(0, whole.length * 0.6));
  await folder.scan();
  expect(await hours(folder)).toBe(0);
  // So long without a signal: what there is counts for now.
  folder.world.now = new Date(Date.parse(NOON) + 6 * 60_000).toISOString();
  await folder.scan();
  const half = await hours(folder);
  expect(half).toBeGreaterThan(15);
  expect(half).toBeLessThan(20);
  folder.put('r1/a.gpx', whole);
  await folder.scan();
  expect(await hours(folder)).toBe(30);
  await folder.world.expectSound();
});

it('the time that a file carries says nothing: neither one ahead or long ago, nor the same as before', async () => {
  const folder = await FolderWorld.open();
  for (const [i, at] of [0, 315_532_800, 4_102_444_800].entries()) {
    const path = folder.put(`r1/${i}.gpx`, gpx(`2025-06-0${i + 1}T08:00:00Z`, 10));
    utimesSync(path, at, at);
  }
  await folder.scan();
  expect(await hours(folder)).toBe(30);
  // Another ride of the same length in bytes, written as if nothing had changed.
  const path = folder.put('r1/0.gpx', gpx('2025-06-05T08:00:00Z', 10));
  utimesSync(path, 0, 0);
  await folder.scan();
  expect(await hours(folder)).toBe(40);
});

it('what another user left unreadable is said, and is taken once it can be read', async () => {
  const folder = await FolderWorld.open();
  const path = folder.put('r1/a.gpx', gpx('2025-06-10T08:00:00Z', 10));
  chmodSync(path, 0o040);
  if (process.getuid!() !== 0) {
    await folder.scan();
    expect(await hours(folder)).toBe(0);
  }
  chmodSync(path, 0o640);
  await folder.scan();
  expect(await hours(folder)).toBe(10);
  expect(statSync(path).mode & 0o777).toBe(0o640);
});
