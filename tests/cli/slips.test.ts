/** What an operator mistypes, forgets or lacks: each is answered by its status, its code, and words to act on. */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { afterAll, beforeAll, expect, it, onTestFinished } from 'vitest';
import { BUILT, scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const root = mkdtempSync(join(tmpdir(), 'stanchion-slips-'));
const data = join(root, 'data');
const at = (name: string): string => join(root, name);
afterAll(() => rmSync(root, { recursive: true, force: true }));

beforeAll(async () => {
  const document = {
    workshop: { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['mon'] },
    riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org' }],
    bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
    units: [
      { tag: 'F-1', unitKind: 'fork', history: 'new' },
      { tag: 'F-2', unitKind: 'fork', history: 'new' },
      { tag: 'S-1', unitKind: 'coil-shock', history: 'new' },
    ],
    fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-01-01' }],
  };
  writeFileSync(at('setup.json'), JSON.stringify(document));
  expect((await runHere(['import', at('setup.json'), '--data', data])).status).toBe(0);
  expect((await runHere(['backup', at('copy.db'), '--data', data])).status).toBe(0);
  writeFileSync(at('broken.json'), '{"workshop": ');
  writeFileSync(at('strange.json'), '{"wrokshop": {}}');
  writeFileSync(at('list.json'), '[1, 2]');
  writeFileSync(at('letter.txt'), 'Dear workshop');
  writeFileSync(at('empty.db'), '');
  writeFileSync(at('cut.db'), readFileSync(at('copy.db')).subarray(0, 40_000));
  writeFileSync(at('rows.csv'), 'tag;kind\nF-9;fork\n');
  mkdirSync(at('folder'));
});

type Slip = readonly [what: string, args: readonly string[], status: number, code: string, says: RegExp];

const SLIPS: readonly Slip[] = [
  // The command itself.
  ['an unknown command', ['serv'], 2, 'wrong-use', /unknown command 'serv'.*help/s],
  ['an unknown option', ['due', '--bye', '2025-06-01'], 2, 'wrong-use', /unknown option '--bye'/],
  ['a missing argument', ['story'], 2, 'wrong-use', /missing required argument 'tag'/],
  ['too many arguments', ['story', 'F-1', 'F-2'], 2, 'wrong-use', /too many arguments/],
  ['an option without its value', ['due', '--by'], 2, 'wrong-use', /argument missing/],
  ['a clock that is none', ['due', '--now', 'noon'], 2, 'wrong-use', /2025-05-20T08:00:00Z/],
  [
    'a clock without its zone where no workshop says which',
    ['look', at('letter.txt'), '--now', '2025-05-20T08:00', '--data', at('nowhere')],
    2,
    'wrong-use',
    /no workshop yet.*Give the time with its zone/s,
  ],
  ['a day the other way round', ['due', '--by', '01.06.2025'], 2, 'wrong-use', /YYYY-MM-DD/],
  ['a day that there is not', ['due', '--by', '2025-02-30'], 2, 'wrong-use', /YYYY-MM-DD/],
  ['weeks in words', ['bench-load', '--weeks', 'four'], 2, 'wrong-use', /unknown command|whole number/],
  // What is not there.
  ['a unit that there is not', ['story', 'F-999'], 1, 'not-found', /There is no unit "F-999"/],
  [
    'a bike that there is not',
    ['hours', 'b9', '--on', '2025-06-01', '--minutes', '60'],
    1,
    'not-found',
    /no bike "b9"/,
  ],
  ['a rider that there is not', ['rider', 'r9', 'forget'], 1, 'not-found', /no rider "r9"/],
  ['a ride that there is not', ['tray', 'x9', '--ride', 'yes'], 1, 'not-found', /x9/],
  ['a fact that there is not', ['void', 'x9', '--why', 'a slip'], 1, 'not-found', /x9|no (such )?fact/],
  ['an import that is not there', ['import', at('no.json')], 1, 'not-found', /no file .*no\.json/],
  ['a backup that is not there', ['restore', at('no.db')], 1, 'not-found', /no file .*no\.db/],
  [
    'findings that are not there',
    ['service', 'F-1', 'full', '--on', '2025-06-01', '--findings', at('no.json')],
    1,
    'not-found',
    /no file/,
  ],
  ['a ride file that is not there', ['look', at('no.fit')], 1, 'not-found', /no file .*no\.fit/],
  ['a folder that is not there', ['take', at('nowhere')], 1, 'not-found', /no file .*nowhere/],
  ['an account that there is not', ['account', 'nobody', '--sign-out'], 1, 'not-found', /nobody/],
  // What is refused, and why.
  [
    'a service that its kind of unit has not',
    ['service', 'S-1', 'air-sleeve', '--on', '2025-06-01'],
    1,
    'refused',
    /air-sleeve|coil/,
  ],
  [
    'a service before the unit was there',
    ['service', 'F-1', 'full', '--on', '1999-01-01'],
    1,
    'refused',
    /F-1|before/,
  ],
  [
    'a service of tomorrow',
    ['service', 'F-1', 'full', '--on', '2030-01-01'],
    1,
    'refused',
    /future|yet|come/i,
  ],
  ['two units on one bike', ['fit', 'F-2', 'b1', '--from', '2025-03-01'], 1, 'refused', /F-1/],
  [
    'a unit taken off that is on nothing',
    ['unfit', 'F-2', '--at', '2025-03-01'],
    1,
    'refused',
    /F-2|on no bike/,
  ],
  ['an export over a file', ['export', at('setup.json')], 1, 'refused', /there already.*--force/s],
  ['a backup over a letter', ['backup', at('letter.txt')], 1, 'refused', /no backup of this store/],
  ['a backup over nothing at all', ['backup', at('empty.db')], 1, 'refused', /no backup of this store/],
  [
    'a letter as a backup',
    ['restore', at('letter.txt')],
    1,
    'refused',
    /could not be restored.*no sound database/s,
  ],
  ['half a backup', ['restore', at('cut.db')], 1, 'refused', /could not be restored|not sound/],
  ['an import that is no JSON', ['import', at('broken.json')], 1, 'refused', /Nothing was imported/],
  ['an import with an unknown key', ['import', at('strange.json')], 1, 'refused', /Nothing was imported/],
  ['an import that is a list', ['import', at('list.json')], 1, 'refused', /Nothing was imported/],
  [
    'a table with the wrong columns',
    ['import', 'units', at('rows.csv')],
    1,
    'refused',
    /Nothing was imported/,
  ],
  [
    'weights that fall',
    ['weights', '--smooth', '2', '--typical', '1', '--rough', '1'],
    1,
    'refused',
    /rough|less|smooth/,
  ],
  ['a race that there is not', ['void', 'F-1', '--why', 'a slip'], 1, 'not-found', /F-1/],
  // Wrong use of a right command.
  ['a backup in a folder', ['backup', at('folder')], 2, 'wrong-use', /is a folder.*For instance/s],
  [
    'a backup over the store',
    ['backup', join(data, 'stanchion.db')],
    2,
    'wrong-use',
    /another file than the store/,
  ],
  ['an export into a folder', ['export', at('folder'), '--force'], 3, 'disk-failed', /could not be written/],
  [
    'an export where there is no folder',
    ['export', at('nowhere/a.json')],
    3,
    'disk-failed',
    /could not be written\. There is no folder .*nowhere\..*Make it/s,
  ],
  [
    'a backup where there is no folder',
    ['backup', at('nowhere/a.db')],
    3,
    'disk-failed',
    /could not be made; nothing was changed\. There is no folder .*nowhere\..*Make it/s,
  ],
  [
    'what is held of a rider where there is no folder',
    ['rider', 'r1', 'export', at('nowhere/a.json')],
    3,
    'disk-failed',
    /There is no folder .*nowhere\..*Make it/s,
  ],
  ['a folder as an import', ['import', at('folder')], 2, 'wrong-use', /is a folder/],
  ['a kind that no CSV has', ['import', 'unit', at('rows.csv')], 1, 'refused', /Nothing was imported/],
  ['two answers at once', ['account', 'owner', '--sign-out', '--remove'], 2, 'wrong-use', /one of/],
  ['an answer without its ride', ['tray', '--ride', 'yes'], 2, 'wrong-use', /tray ID/],
  ['an answer that is neither', ['tray', 'x9', '--ride', 'maybe'], 2, 'wrong-use', /yes or no/],
  ['a rider neither exported nor forgotten', ['rider', 'r1', 'delete'], 2, 'wrong-use', /forget/],
  ['minutes of two days', ['hours', 'b1', '--on', '2025-06-01', '--minutes', '3000'], 2, 'wrong-use', /1440/],
  ['a mark that is none', ['mark', 'F-1', 'halt', '--why', 'a crack'], 2, 'wrong-use', /stop/],
  ['a kind of service that is none', ['service', 'F-1', 'oil', '--on', '2025-06-01'], 1, 'refused', /oil/],
  ['a port in words behind the command', ['serve', '--port', 'many'], 2, 'wrong-use', /^--port: /m],
  ['a setup without a terminal', ['setup', '--account', 'second'], 2, 'wrong-use', /STANCHION_PASSWORD/],
];

it.each(SLIPS)('%s', async (_what, args, status, code, says) => {
  const ran = await runHere([
    ...args,
    '--json',
    ...(args.some((arg) => arg.startsWith('--data')) ? [] : ['--data', data]),
    ...(args.includes('--now') ? [] : ['--now', '2025-06-18T12:00:00Z']),
  ]);
  const { error } = (ran.rows.find((row) => row.error !== undefined) ?? {}) as {
    error?: { code: string; message: string; hint: string | null };
  };
  expect([ran.status, error?.code], ran.stderr).toEqual([status, code]);
  expect(`${error!.message}\n${error!.hint ?? ''}`).toMatch(says);
  // People read the same.
  expect(ran.stderr).toContain(error!.message.split('\n')[0]!.replace(/[.:]$/, ''));
  expect(error!.message).not.toMatch(/ENO|EACC|EISDIR|undefined|\bat .*\.js/);
});

const SETTINGS: readonly (readonly [what: string, env: Readonly<Record<string, string>>, says: RegExp])[] = [
  ['a port in words', { PORT: 'many' }, /^PORT of the environment: /m],
  [
    'a relay without its protocol',
    { STANCHION_SMTP_URL: 'mail.example.org' },
    /STANCHION_SMTP_URL.*smtp:\/\//,
  ],
  ['a public address with a path', { STANCHION_PUBLIC_URL: 'https://example.org/bench' }, /without a path/],
  ['a short secret', { STANCHION_SECRET: 'short' }, /32 characters/],
  [
    'a server without a secret',
    { STANCHION_DATABASE_URL: 'postgresql://127.0.0.1/x' },
    /STANCHION_SECRET.*must be set/,
  ],
  ['a proxy by its name', { STANCHION_TRUSTED_PROXY: 'proxy.local' }, /addresses/],
  ['half of what signs mails', { STANCHION_DKIM_DOMAIN: 'example.org' }, /go together/],
  ['an hour that there is not', { STANCHION_BACKUP_HOUR: '25' }, /STANCHION_BACKUP_HOUR/],
];

it.each(SETTINGS)('of the settings: %s', async (_what, env, says) => {
  const ran = await runHere(['due', '--json', '--data', data], env);
  expect([ran.status, ran.rows]).toMatchObject([
    2,
    [{ error: { code: 'wrong-use', message: expect.stringMatching(says) } }],
  ]);
});

it('each file that is missing has its line, and those that are there are looked at', async () => {
  const paths = [at('a.fit'), at('letter.txt'), at('b.fit')];
  const { status, rows } = await runHere(['look', '--json', ...paths]);
  expect(status).toBe(1);
  expect(rows.map((row) => [row.file, row.outcome ?? (row.error as { code: string }).code])).toEqual([
    [paths[0], 'not-found'],
    [paths[1], 'set-aside'],
    [paths[2], 'not-found'],
  ]);
});

it('a damaged database names its backups and how to bring one back', async () => {
  const folder = scratchFolder();
  cpSync(data, folder, { recursive: true });
  mkdirSync(join(folder, 'backups'));
  for (const day of ['2025-06-15', '2025-06-17'])
    cpSync(at('copy.db'), join(folder, `backups/stanchion-${day}.db`));
  writeFileSync(join(folder, 'stanchion.db'), 'This is no database, whatever its name says. '.repeat(100));
  const { status, rows } = await runHere(['due', '--json', '--data', folder]);
  const { error } = rows[0] as { error: { code: string; message: string; hint: string } };
  expect([status, error.code, error.message]).toEqual([3, 'store-failed', 'The file is no database.']);
  const last = join(folder, 'backups/stanchion-2025-06-17.db');
  expect(error.hint).toContain(`stanchion restore ${last}\n`);
  const restored = await runHere(['restore', last, '--data', folder]);
  expect([restored.status, restored.stdout]).toEqual([0, expect.stringContaining('bring the file secret')]);
  expect((await runHere(['due', '--data', folder])).status).toBe(0);
});

it('a store in use is neither replaced nor moved away', async () => {
  const other = new SQLite(join(data, 'stanchion.db'));
  onTestFinished(() => void other.close());
  other.exec('begin immediate');
  for (const args of [
    ['restore', at('copy.db')],
    ['move', at('moved.db')],
  ]) {
    const { status, rows } = await runHere([...args, '--json', '--data', data]);
    expect([args[0], status, rows[0]]).toMatchObject([
      args[0],
      1,
      {
        error: {
          code: 'refused',
          message: 'The store is in use.',
          hint: expect.stringMatching(/^Stop the server/),
        },
      },
    ]);
  }
  other.exec('rollback');
});

it('an export goes to standard output, and over a file by force', async () => {
  const piped = await runHere(['export', '-', '--data', data]);
  expect([piped.status, JSON.parse(piped.stdout).workshop.name]).toEqual([0, 'Test bench']);
  const file = join(scratchFolder(), 'a.json');
  writeFileSync(file, 'before');
  expect((await runHere(['export', file, '--force', '--data', data])).status).toBe(0);
  expect(readFileSync(file, 'utf8')).toBe(piped.stdout);
});

it('a clock without a zone is the workshop’s, also across a change of its clocks', async () => {
  const days = async (now: string) => {
    const ran = await runHere(['due', '--json', '--data', data, '--now', now]);
    expect(ran.status).toBe(0);
    return ran.rows[0]!.asOf;
  };
  expect(await days('2025-06-18T13:00')).toBe(await days('2025-06-18T12:00:00Z'));
  expect(await days('2025-12-18T12:00')).toBe(await days('2025-12-18T12:00:00Z'));
});

it('times without a zone are the workshop’s', async () => {
  const { rows } = await runHere([
    'fit',
    'F-2',
    'b1',
    '--from',
    '2024-06-01T08:00',
    '--data',
    data,
    '--json',
  ]);
  expect(rows[0]).not.toHaveProperty('error.code', 'wrong-use');
  const typed = await runHere(['fit', 'S-1', 'b1', '--from', '2025-06-01T08:00', '--data', data, '--json']);
  expect(typed.status).toBe(0);
  expect((await runHere(['story', 'S-1', '--data', data])).stdout).toMatch(/2025-06-01T07:00/);
});

const isRoot = process.getuid!() === 0;
it.skipIf(!isRoot)(
  'no rights on the folder is said as that (left out where another user cannot be tried)',
  () => {
    const folder = scratchFolder();
    chmodSync(folder, 0o755);
    const shut = join(folder, 'data');
    cpSync(data, shut, { recursive: true });
    chownSync(shut, 0, 0);
    chmodSync(shut, 0o700);
    const ran = spawnSync(
      process.execPath,
      [join(BUILT, 'src/cli/main.js'), 'due', '--json', '--data', shut],
      {
        encoding: 'utf8',
        env: { PATH: process.env.PATH },
        ...{ uid: 65_534, gid: 65_534 },
      },
    );
    const { error } = JSON.parse(ran.stdout) as { error: { code: string; message: string } };
    expect([ran.status, error.code, error.message]).toEqual([3, 'disk-failed', `You may not read ${shut}.`]);
    const says = (...args: string[]) =>
      spawnSync(process.execPath, [join(BUILT, 'src/cli/main.js'), ...args, '--data', shut], {
        encoding: 'utf8',
        env: { PATH: process.env.PATH },
        ...{ uid: 65_534, gid: 65_534 },
      }).stderr;
    const asOwner = /You may not read.* .*\nRun as the user who owns it/;
    const open = scratchFolder();
    cpSync(at('copy.db'), join(open, 'copy.db'));
    chmodSync(open, 0o777);
    chmodSync(join(open, 'copy.db'), 0o644);
    expect(says('backup', join(open, 'a.db'))).toMatch(asOwner);
    expect(says('restore', join(open, 'copy.db'))).toMatch(asOwner);
    expect(says('move', join(open, 'b.db'))).toMatch(asOwner);
    expect(readdirSync(open)).toEqual(['copy.db']);
  },
);
