/** A folder that others keep alike with the drop folder: by real tools, with all that they leave and do. */
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { scratchFolder } from '../../fixtures/program.js';
import { hasRclone, hasSyncthing, keepAlike, leftOut, serveWebdav, until } from '../../fixtures/syncTools.js';
import { FolderWorld, gpx } from './folderWorld.js';

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
