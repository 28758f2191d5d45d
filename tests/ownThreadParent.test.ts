import { spawn, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import SQLite from 'better-sqlite3';
import { expect, it } from 'vitest';
import { openStore } from '../src/store/open.js';
import { instant } from '../src/units.js';
import { BUILT, scratchFolder } from './fixtures/program.js';

const SWEEP = join(BUILT, 'workers/sweep.js');
const BACK_UP = join(BUILT, 'workers/backUp.js');
const MOST_LOOKS = 100;

/** A store that another holds, so that whoever wants it waits. */
async function heldStore() {
  const folder = scratchFolder();
  const path = join(folder, 'stanchion.db');
  await (await openStore(path, instant(0))).close();
  const holder = new SQLite(path);
  holder.pragma('locking_mode = EXCLUSIVE');
  holder.exec('begin exclusive');
  const request = JSON.stringify({ path, file: join(folder, 'copy.db'), now: 0 });
  return { holder, args: { sweep: [SWEEP, path], backUp: [BACK_UP, request] } };
}

const isThere = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
};

it.each(['sweep', 'backUp'] as const)('a %s whose program is gone is killed where it waits', async (what) => {
  const { holder, args } = await heldStore();
  const gone = spawnSync(process.execPath, [...args[what], '1']);
  expect(gone.signal).toBe('SIGKILL');
  const stays = spawnSync(process.execPath, [...args[what], String(process.pid)]);
  expect(stays.signal).toBeNull();
  holder.close();
});

it('a program that is killed takes its child along', async () => {
  const { holder, args } = await heldStore();
  const parent = spawn(
    process.execPath,
    [
      '-e',
      `const child = require('node:child_process').spawn(process.execPath, [...JSON.parse(process.argv[1]), String(process.pid)], { stdio: 'ignore' });
console.log(child.pid); setInterval(() => {}, 1000);`,
      JSON.stringify(args.backUp),
    ],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  );
  const pid = Number(await new Promise((said) => parent.stdout.once('data', said)));
  expect(isThere(pid)).toBe(true);
  parent.kill('SIGKILL');
  for (let look = 0; look < MOST_LOOKS && isThere(pid); look += 1) await wait(50);
  expect(isThere(pid)).toBe(false);
  holder.close();
});
