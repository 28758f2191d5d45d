/** Every command of the table with every kind of slip: with --json a script reads JSON alone, and each failure in one shape. */
import {
  chmodSync,
  chownSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Command, Option } from 'commander';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { programOf } from '../../src/cli/program.js';
import { ERROR_CODES } from '../../src/errors.js';
import type { Ran } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
const root = mkdtempSync(join(tmpdir(), 'stanchion-every-'));
const at = (name: string): string => join(root, name);
afterAll(() => rmSync(root, { recursive: true, force: true }));

const COMMANDS = programOf().commands;
/** Global options, which stand behind every command. */
const GLOBAL = ['--data', '--json', '--now', '--help'];
const optionsOf = (command: Command): readonly Option[] =>
  command.options.filter(({ long }) => !GLOBAL.includes(long!));

/** What each argument takes, by command and name, else by name alone. A new one fails until it stands here. */
const ARGUMENTS: Readonly<Record<string, readonly string[]>> = {
  tag: ['F-1'],
  'other-tag': ['F-2'],
  bike: ['b1'],
  rider: ['r1'],
  fleet: ['t1'],
  fact: ['nothing'],
  id: ['nothing'],
  name: ['owner'],
  kind: ['lower-leg'],
  how: ['stolen'],
  date: ['2025-06-18'],
  from: ['F-1'],
  to: ['F-9'],
  'stop|clear': ['stop'],
  'in|out': ['in'],
  'export|forget': ['forget'],
  'file-or-kind': [at('setup.json')],
  'look file': [at('letter.txt')],
  path: [at('letter.txt')],
  'export file.json': [at('new.json')],
  'backup file': [at('new.db')],
  'restore file': [at('copy.db')],
  'move to': [at('moved.db')],
  'rename kind': ['unit'],
};

/** Of some options one must be given. */
const ONE_OF: Readonly<Record<string, readonly string[]>> = { account: ['--sign-out'], lead: ['--done'] };

/** What an option takes that must be given. */
const REQUIRED: Readonly<Record<string, string>> = {
  '--on': '2025-06-01',
  '--from': '2025-06-01',
  '--at': '2025-06-01',
  '--why': 'a slip',
  '--hours': '4',
  '--with': at('empty.json'),
};

/** Arguments and options that name a file to be read. */
const READ = ['look file', 'take path', 'import file-or-kind', 'restore file'];
const READ_OPTIONS = ['service --findings', 'service --parts', 'correct --with', 'mark --looked'];
/** A recording is found by the name that it came under. */
const ASKED = ['tray --apart'];
/** Those that name a file to be written, or what is asked for beside one. */
const WRITTEN = ['export file.json', 'backup file', 'import file.csv', 'rider file.json', 'leads --csv'];

/** These go on until they are stopped, and are tried as such elsewhere. */
const GO_ON = ['serve', 'demo'];
/** Of no ledger, or a damaged one, these say something else: they need none, make one, or are there to look at it. */
const NO_LEDGER_NEEDED = ['look', 'demo'];
const MAKE_LEDGER = ['setup', 'import', 'restore'];
const EXAMINE = ['doctor'];

/** The first argument of a command that names what may not be there. */
const NAMES_SOMETHING = ['tag', 'bike', 'rider', 'fact', 'id', 'name', 'from'];

beforeAll(async () => {
  const document = {
    workshop: { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['mon'] },
    fleets: [{ id: 't1', name: 'Team' }],
    riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org' }],
    bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
    units: ['F-1', 'F-2'].map((tag) => ({ tag, unitKind: 'fork', history: 'new' })),
    fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-01-01' }],
  };
  writeFileSync(at('setup.json'), JSON.stringify(document));
  writeFileSync(at('empty.json'), '{}');
  writeFileSync(at('letter.txt'), 'Dear workshop');
  const data = ['--data', at('data')];
  expect((await runHere(['import', at('setup.json'), ...data])).status).toBe(0);
  expect((await runHere(['backup', at('copy.db'), ...data])).status).toBe(0);
  mkdirSync(at('nothing'));
  mkdirSync(at('damaged'));
  writeFileSync(at('damaged/stanchion.db'), 'This is no database, whatever its name says. '.repeat(100));
});

function argumentsOf(command: Command): string[] {
  return command.registeredArguments
    .filter(({ required }) => required)
    .flatMap((one) => {
      const value = ARGUMENTS[`${command.name()} ${one.name()}`] ?? ARGUMENTS[one.name()];
      if (value === undefined) throw new Error(`Say what <${one.name()}> of ${command.name()} takes.`);
      return value;
    });
}

const requiredOf = (command: Command): string[] =>
  optionsOf(command)
    .filter(({ mandatory }) => mandatory)
    .flatMap(({ long }) => {
      const value = REQUIRED[long!];
      if (value === undefined) throw new Error(`Say what ${long} of ${command.name()} takes.`);
      return [long!, value];
    });

/** A right use of the command, as far as its words go. */
const usedRight = (command: Command): string[] => [
  command.name(),
  ...argumentsOf(command),
  ...requiredOf(command),
  ...(ONE_OF[command.name()] ?? []),
];

/** Global options stand before, so that a slip may stand last. */
function run(args: readonly string[], data = at('data')): Promise<Ran> {
  for (const written of ['new.json', 'new.db', 'moved.db']) rmSync(at(written), { force: true });
  const password = { STANCHION_PASSWORD: 'long enough for this' };
  return runHere(['--json', '--data', data, '--now', NOW, ...args], password);
}

interface Failure {
  readonly code: string;
  readonly message: string;
  readonly hint: string | null;
}

/** `runHere` reads each line of standard output as JSON, or throws. */
function failureOf({ rows, stderr }: Ran, what: string): Failure {
  const failures = rows.filter(({ error }) => error !== undefined);
  expect(failures, what).toHaveLength(1);
  const error = failures[0]!.error as Failure;
  expect(Object.keys(error), what).toEqual(['code', 'message', 'hint']);
  expect([...ERROR_CODES, 'fault'], what).toContain(error.code);
  expect(error.message, what).toMatch(/\w.*\w/);
  expect(error.hint === null || /\w/.test(error.hint), what).toBe(true);
  // The words are for people: no code of the system, nothing of the inside.
  expect(`${error.message} ${error.hint}`, what).not.toMatch(
    /\bE[A-Z]{4,}\b|undefined|\[object|\bat .*\.[jt]s:/,
  );
  // People read the same on the other stream.
  expect(stderr.replaceAll('error: ', ''), what).toContain(error.message.split('\n')[0]);
  return error;
}

async function expectFailure(
  args: readonly string[],
  status: number,
  code: string,
  data?: string,
): Promise<void> {
  const ran = await run(args, data);
  const what = args.join(' ');
  const error = failureOf(ran, `${what}: ${ran.stdout}${ran.stderr}`);
  expect([what, ran.status, error.code], error.message).toEqual([what, status, code]);
}

const named = COMMANDS.map((command) => [command.name(), command] as const);
const without = (...names: readonly string[]) => named.filter(([name]) => !names.includes(name));

it('every argument and option that names a file stands in a table here', () => {
  const files = named.flatMap(([name, command]) => [
    ...command.registeredArguments
      .filter((one) => /file|path/.test(one.name()))
      .map((one) => `${name} ${one.name()}`),
    ...optionsOf(command)
      .filter(({ flags }) => /<file>/.test(flags))
      .map(({ long }) => `${name} ${long}`),
  ]);
  expect(files.sort()).toEqual([...READ, ...READ_OPTIONS, ...ASKED, ...WRITTEN].sort());
});

describe('wrong use', () => {
  it.each(named)(
    'of %s: an unknown option, an argument too many or too few, a value that lacks',
    async (name, command) => {
      const right = usedRight(command);
      await expectFailure([...right, '--no-such-option'], 2, 'wrong-use');
      const last = command.registeredArguments.at(-1);
      if (last?.variadic !== true) {
        const optional = command.registeredArguments
          .filter(({ required }) => !required)
          .map(() => '2025-06-18');
        await expectFailure([...right, ...optional, 'too-many'], 2, 'wrong-use');
      }
      if (command.registeredArguments.some(({ required }) => required))
        await expectFailure([name], 2, 'wrong-use');
      for (const { long, mandatory } of optionsOf(command))
        if (mandatory) {
          const i = right.indexOf(long!);
          await expectFailure([...right.slice(0, i), ...right.slice(i + 2)], 2, 'wrong-use');
        }
      for (const { long, required } of optionsOf(command))
        if (required) await expectFailure([...right, long!], 2, 'wrong-use');
      await expectFailure([...right, '--now'], 2, 'wrong-use');
      await expectFailure([...right, '--now', 'noon'], 2, 'wrong-use');
    },
  );

  it.each(named)('of %s: a value that its option does not take', async (_name, command) => {
    for (const { long, parseArg, argChoices } of optionsOf(command))
      if ((parseArg !== undefined && parseArg !== null) || argChoices !== undefined) {
        // A list of texts takes any.
        if (long === '--restarts') continue;
        await expectFailure([...usedRight(command), long!, 'no such value'], 2, 'wrong-use');
      }
  });
});

it.each(named)('%s says how it is used, as JSON too', async (name) => {
  const { status, rows } = await run([name, '--help']);
  expect([status, rows]).toEqual([0, [{ help: expect.stringContaining(`Usage: stanchion ${name} `) }]]);
});

describe('a file that is not there', () => {
  it.each(READ)('%s', async (which) => {
    const [name, argument] = which.split(' ') as [string, string];
    const command = COMMANDS.find((one) => one.name() === name)!;
    expect(command.registeredArguments.map((one) => one.name())).toContain(argument);
    await expectFailure([name, at('no such file.json')], 1, 'not-found');
  });

  it.each(READ_OPTIONS)('%s', async (which) => {
    const [name, option] = which.split(' ') as [string, string];
    const right = usedRight(COMMANDS.find((one) => one.name() === name)!);
    const i = right.indexOf(option);
    const rest = i < 0 ? right : [...right.slice(0, i), ...right.slice(i + 2)];
    const clearing = rest.map((one) => (one === 'stop' ? 'clear' : one));
    await expectFailure([...clearing, option, at('no such file.json')], 1, 'not-found');
  });
});

describe('a thing that is not there', () => {
  const naming = named.filter(([, command]) =>
    command.registeredArguments.some((one) => one.required && NAMES_SOMETHING.includes(one.name())),
  );
  it.each(naming)('%s', async (name, command) => {
    const args = command.registeredArguments.flatMap((one) => {
      if (!one.required) return [];
      if (NAMES_SOMETHING.includes(one.name())) return ['nothing'];
      return ARGUMENTS[`${name} ${one.name()}`] ?? ARGUMENTS[one.name()]!;
    });
    await expectFailure([name, ...args, ...requiredOf(command), ...(ONE_OF[name] ?? [])], 1, 'not-found');
  });
});

describe('no ledger in the folder', () => {
  it.each(without(...NO_LEDGER_NEEDED, ...MAKE_LEDGER, ...EXAMINE))('%s', async (_name, command) => {
    await expectFailure(usedRight(command), 1, 'refused', at('nothing'));
    expect(existsSync(at('nothing/stanchion.db'))).toBe(false);
  });
});

describe('a damaged ledger', () => {
  it.each(without(...NO_LEDGER_NEEDED, ...EXAMINE, 'restore'))('%s', async (_name, command) => {
    await expectFailure(usedRight(command), 3, 'store-failed', at('damaged'));
  });
});

const isRoot = process.getuid!() === 0;
describe.skipIf(!isRoot)('no rights on the folder (left out where no other user can be tried)', () => {
  /** As somebody for whom files may be locked. */
  async function asOther<T>(work: () => Promise<T>): Promise<T> {
    process.seteuid!(65_534);
    try {
      return await work();
    } finally {
      process.seteuid!(0);
    }
  }

  beforeAll(() => {
    chmodSync(root, 0o755);
    cpSync(at('data'), at('shut'), { recursive: true });
    chownSync(at('shut'), 0, 0);
    chmodSync(at('shut'), 0o700);
  });

  it.each(without(...NO_LEDGER_NEEDED, ...EXAMINE))('%s', async (name, command) => {
    // What it loads is loaded before, by whoever may.
    if (!GO_ON.includes(name)) await run(usedRight(command), at(`made by ${name}`));
    await asOther(() => expectFailure(usedRight(command), 3, 'disk-failed', at('shut')));
  });
});

describe('used right', () => {
  it.each(without(...GO_ON))('%s speaks JSON alone', async (name, command) => {
    const data = at(`of ${name}`);
    cpSync(at('data'), data, { recursive: true });
    const ran = await run(usedRight(command), data);
    const what = `${ran.stdout}\n${ran.stderr}`;
    expect(ran.rows.length, what).toBeGreaterThanOrEqual(ran.status === 0 ? 0 : 1);
    if (ran.rows.some(({ error }) => error !== undefined)) failureOf(ran, what);
    expect([0, 1, 3], what).toContain(ran.status);
    for (const row of ran.rows) expect(typeof row, what).toBe('object');
  });
});
