/** What other users of the machine may read of what the program writes: nothing, but in a drop folder that they write into. */
import {
  chmodSync,
  chownSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { layDown, putLedger, rideText, serveIn, untilCounted } from '../faults/serving.js';
import { eventually, runProgram, scratchFolder } from '../fixtures/program.js';
import { fileForm, openDoor, PASSWORD } from './openDoor.js';

const isRoot = process.getuid!() === 0;
const modeOf = (path: string): number => lstatSync(path).mode & 0o7777;

/** Everything below a folder, and it, that others may do anything with. */
function openIn(folder: string): string[] {
  const all = [
    folder,
    ...readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((name) => join(folder, name)),
  ];
  expect(all.length).toBeGreaterThan(10);
  return all
    .filter((path) => (modeOf(path) & 0o077) !== 0)
    .map((path) => `${path}: ${modeOf(path).toString(8)}`);
}

it('after a full journey nobody else may read, write or pass anything in the data folder', async () => {
  // As most machines are set: without it each file would be readable by all.
  expect(process.umask() & 0o044).toBe(0);
  const door = await openDoor();
  const { data } = door;
  layDownPrivately(data, 'ride.gpx', rideText(3));
  const { type, before, after } = fileForm('sent.gpx');
  const sent = await door.ask(`${await door.linkOf('r2', 'page')}/files`, {
    method: 'POST',
    headers: { 'content-type': type, accept: 'application/json' },
    body: Buffer.concat([before, Buffer.from(rideText(4)), after]),
  });
  expect(sent.status).toBe(200);
  expect((await door.signIn(PASSWORD)).status).toBe(303);
  await eventually(() => (readdirSync(join(data, 'inbox/r1')).includes('what happened.txt') ? true : null));
  const run = (...args: string[]): void => {
    const { status, stderr } = runProgram([...args, '--data', data]);
    expect([args, status, stderr]).toEqual([args, 0, expect.anything()]);
  };
  run('mark', 'F-r1', 'stop', '--why', 'a scratch');
  run('mails');
  run('deliver');
  run('export', join(data, 'ledger.json'));
  run('rider', 'r1', 'export', join(data, 'rider.json'));
  run('backup', join(data, 'by-hand.db'));
  await door.serving.stop();
  run('restore', join(data, 'by-hand.db'));
  const there = readdirSync(data).sort();
  for (const name of [
    'by-hand.db',
    'inbox',
    'ledger.json',
    'originals',
    'outbox',
    'parts',
    'rider.json',
    'stanchion.db',
  ])
    expect(there).toContain(name);
  expect(openIn(data)).toEqual([]);
}, 240_000);

it('what an earlier program left open is closed at the start', async () => {
  const data = scratchFolder();
  await putLedger(data);
  for (const folder of ['', 'outbox', 'originals', 'originals/ab', 'backups']) {
    mkdirSync(join(data, folder), { recursive: true });
    writeFileSync(join(data, folder, folder === '' ? 'secret' : 'a file'), `${'0'.repeat(64)}\n`);
    chmodSync(join(data, folder), 0o755);
  }
  for (const name of ['stanchion.db', 'secret', 'outbox/a file', 'originals/ab/a file', 'backups/a file'])
    chmodSync(join(data, name), 0o644);
  expect(openIn(data).length).toBeGreaterThan(8);
  writeFileSync(join(data, 'a note of the owner.txt'), '');
  chmodSync(join(data, 'a note of the owner.txt'), 0o644);
  await (await serveIn(data)).stop();
  // What the program did not write keeps its rights; nobody comes to it any more.
  expect(openIn(data)).toEqual([`${join(data, 'a note of the owner.txt')}: 644`]);
}, 120_000);

it('a drop folder that others write into keeps its rights, and they may read what became of their files', async () => {
  const data = scratchFolder();
  await putLedger(data);
  const inbox = join(data, 'inbox');
  const rider = join(inbox, 'r1');
  mkdirSync(join(rider, 'b1'), { recursive: true });
  // A number that no user here has.
  const group = isRoot ? 54_321 : process.getgid!();
  for (const folder of [inbox, rider, join(rider, 'b1')]) {
    chownSync(folder, process.getuid!(), group);
    chmodSync(folder, 0o2770);
  }
  chmodSync(data, 0o755);
  await serveIn(data);
  writeFileSync(join(rider, 'b1', 'ride.gpx'), rideText(3));
  await untilCounted(data, 1);
  const told = await eventually(
    () => statSync(join(rider, 'what happened.txt'), { throwIfNoEntry: false }) ?? null,
  );
  expect([told.mode & 0o777, told.gid]).toEqual([0o640, group]);
  expect([inbox, rider].map((folder) => [modeOf(folder), statSync(folder).gid])).toEqual([
    [0o2770, group],
    [0o2770, group],
  ]);
  // They pass through the data folder to it, and see nothing else on their way.
  expect(modeOf(data)).toBe(0o711);
  for (const name of readdirSync(data).filter((one) => one !== 'inbox'))
    expect([name, modeOf(join(data, name)) & 0o077]).toEqual([name, 0]);
}, 120_000);

it('a drop folder elsewhere is read there, keeps its rights, and is not made where it is missing', async () => {
  const data = scratchFolder();
  await putLedger(data);
  const inbox = join(scratchFolder(), 'shared');
  const first = await serveIn(data, { STANCHION_INBOX: inbox });
  await eventually(() => (runProgram(['tray', '--data', data]).status === 0 ? true : null));
  expect(statSync(inbox, { throwIfNoEntry: false })).toBeUndefined();
  await first.stop();
  mkdirSync(join(inbox, 'r1/b1'), { recursive: true });
  for (const folder of [inbox, join(inbox, 'r1'), join(inbox, 'r1/b1')]) chmodSync(folder, 0o775);
  writeFileSync(join(inbox, 'r1/b1/ride.gpx'), rideText(3));
  await serveIn(data, { STANCHION_INBOX: inbox });
  await untilCounted(data, 1);
  await eventually(() => (readdirSync(join(inbox, 'r1')).includes('what happened.txt') ? true : null));
  expect(readFileSync(join(inbox, 'r1/what happened.txt'), 'utf8')).toContain('ride.gpx');
  expect([modeOf(inbox), modeOf(join(inbox, 'r1')), modeOf(join(inbox, 'r1/what happened.txt'))]).toEqual([
    0o775, 0o775, 0o640,
  ]);
  expect(modeOf(data)).toBe(0o700);
}, 120_000);

/** A rider's folder as its owner alone has it. */
function layDownPrivately(data: string, name: string, text: string): void {
  mkdirSync(join(data, 'inbox/r1/b1'), { recursive: true, mode: 0o700 });
  layDown(data, name, text);
  chmodSync(join(data, 'inbox/r1/b1', name), 0o600);
}
