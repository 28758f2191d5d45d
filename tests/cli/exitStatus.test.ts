/** 0 done, also when files wait; 1 refused or set aside; 2 wrong use; 3 the store is out of order. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, onTestFinished, vi } from 'vitest';
import { runProgram, scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

it('wrong use is 2, with help on stderr and nothing on stdout', async () => {
  const told = runProgram(['no-such-command']);
  expect([told.status, told.stdout]).toEqual([2, '']);
  expect(told.stderr).toMatch(/error:/);
  for (const args of [
    ['due', '--no-such-option'],
    ['look'],
    ['due', '--by', 'tomorrow'],
    ['service', 'F-1', 'full'],
  ]) {
    const { status, stdout, stderr } = await runHere(args);
    expect([status, stdout], args.join(' ')).toEqual([2, '']);
    expect(stderr, args.join(' ')).toMatch(/error:/);
  }
});

it('help and no fault are 0', () => {
  const { status, stdout } = runProgram(['--help']);
  expect(status).toBe(0);
  for (const command of [
    'setup',
    'serve',
    'look',
    'take',
    'import',
    'tray',
    'due',
    'service',
    'fit',
    'unfit',
    'swap',
    'hours',
    'mark',
    'bench',
    'mails',
    'deliver',
    'check',
    'demo',
  ]) {
    expect(stdout).toMatch(new RegExp(`^  ${command}\\b`, 'm'));
  }
});

it('a folder without a ledger is refused with what to do next', async () => {
  const { status, stderr } = await runHere(['due', '--data', join(scratchFolder(), 'nothing')]);
  expect(status).toBe(1);
  expect(stderr).toMatch(/no ledger.*\n.*stanchion setup/s);
});

it('a file that is not there, and one that is no ride file, are 1', async () => {
  const folder = scratchFolder();
  const missing = await runHere(['look', join(folder, 'missing.fit')]);
  expect([missing.status, missing.stderr]).toEqual([1, expect.stringContaining('missing.fit')]);
  const note = join(folder, 'note.fit');
  writeFileSync(note, 'Dear workshop');
  const looked = runProgram(['look', '--json', note]);
  expect(looked.status).toBe(1);
  expect(looked.rows).toMatchObject([
    { file: note, outcome: 'set-aside', code: 'not-fit-or-gpx', rides: [] },
  ]);
});

it('a file for the tray is 0: it waits, and nothing failed', async () => {
  const folder = scratchFolder();
  const track = join(folder, 'track.gpx');
  const points = [0, 1, 2].map((i) => `<trkpt lat="44.${i}" lon="-38"/>`).join('');
  writeFileSync(
    track,
    `<?xml version="1.0"?><gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>${points}</trkseg></trk></gpx>`,
  );
  const { status, rows } = await runHere(['look', '--json', track]);
  expect([status, rows[0]?.outcome, rows[0]?.code]).toEqual([0, 'ask', 'no-times']);
});

it('a database that is no database is 3', () => {
  const data = scratchFolder();
  mkdirSync(data, { recursive: true });
  writeFileSync(join(data, 'stanchion.db'), 'This is no database, whatever its name says. '.repeat(100));
  const { status, stderr } = runProgram(['due', '--data', data]);
  expect(status).toBe(3);
  expect(stderr).toMatch(/cannot be opened|could not be brought up to date|not a database/);
});

it('settings that cannot be used are named', () => {
  const { status, stderr } = runProgram(['due', '--data', scratchFolder()], {
    STANCHION_SMTP_URL: 'mail.example.org',
    PORT: 'many',
  });
  expect(status).toBe(2);
  expect(stderr).toMatch(/STANCHION_SMTP_URL/);
  expect(stderr).toMatch(/PORT/);
});

it('setup makes an account once', async () => {
  const data = scratchFolder();
  onTestFinished(() => void vi.unstubAllEnvs());
  vi.stubEnv('STANCHION_PASSWORD', 'long enough for this');
  expect((await runHere(['setup', '--data', data])).status).toBe(0);
  const again = await runHere(['setup', '--data', data]);
  expect([again.status, again.stderr]).toEqual([1, expect.stringContaining('owner')]);
  vi.stubEnv('STANCHION_PASSWORD', 'short');
  const short = await runHere(['setup', '--account', 'second', '--data', data]);
  expect([short.status, short.stderr]).toEqual([1, expect.stringContaining('8 to 200')]);
  const unasked = runProgram(['setup', '--account', 'second', '--data', data]);
  expect([unasked.status, unasked.stderr]).toEqual([2, expect.stringContaining('STANCHION_PASSWORD')]);
});

it('a reader that stops reading is no fault', () => {
  const program = join(import.meta.dirname, '../../dist/src/cli/main.js');
  const { status, stderr } = spawnSync('sh', ['-c', `"${process.execPath}" "${program}" --help | head -1`], {
    encoding: 'utf8',
  });
  expect([status, stderr]).toEqual([0, '']);
});
