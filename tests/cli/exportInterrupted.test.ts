/** An export that is ended in the middle: no file of that name is half, and what was written so far is taken for whole by nobody. */
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { PROGRAM, scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
/** So many that it takes a while. */
const UNITS = 150;
const DAYS = 8;
const CUTS = 24;

let made = '';
let whole = '';
const at = (data = join(made, 'data')): string[] => ['--data', data, '--now', NOW];

beforeAll(async () => {
  made = mkdtempSync(join(tmpdir(), 'stanchion-export-'));
  const ids = Array.from({ length: UNITS }, (_, i) => i);
  const days = Array.from({ length: DAYS }, (_, i) => `2025-05-${10 + i}`);
  const document = {
    workshop: { id: 'w1', name: 'Test bench', timeZone: 'UTC', openDays: ['tue'] },
    bikes: ids.map((i) => ({ id: `b${i}`, rider: null, name: `Bike ${i}`, type: 'trail' })),
    units: ids.map((i) => ({ tag: `F-${i}`, unitKind: 'fork', history: 'new' })),
    fittings: ids.map((i) => ({ unit: `F-${i}`, bike: `b${i}`, from: '2025-01-01' })),
    hours: ids.flatMap((i) => days.map((on) => ({ bike: `b${i}`, on, minutes: 60, ground: 'rough' }))),
  };
  writeFileSync(join(made, 'setup.json'), JSON.stringify(document));
  expect((await runHere(['import', join(made, 'setup.json'), ...at()])).status).toBe(0);
  whole = (await runHere(['export', '-', ...at()])).stdout;
}, 120_000);
afterAll(() => rmSync(made, { recursive: true, force: true }));

interface Ended {
  readonly status: number | null;
  readonly said: string;
  readonly complained: string;
}

/** Gives the command, and ends it as soon as something of its file is there, or of its output. */
async function ended(to: string, signal: NodeJS.Signals, isBegun: (said: string) => boolean): Promise<Ended> {
  const args = ['export', to, '--force', ...(to === '-' ? [] : ['--json']), ...at()];
  const child = spawn(process.execPath, [PROGRAM, ...args], { env: { PATH: process.env.PATH } });
  let [said, complained, hasEnded] = ['', '', false];
  child.stderr.on('data', (chunk) => {
    complained += String(chunk);
  });
  child.stdout.on('data', (chunk) => {
    said += String(chunk);
  });
  const end = new Promise<number | null>((resolve) =>
    child.once('close', (status) => {
      hasEnded = true;
      resolve(status);
    }),
  );
  while (!hasEnded && !isBegun(said)) await new Promise(setImmediate);
  // Nobody reads on meanwhile, so it waits with a full pipe, and looks up once it goes on.
  child.stdout.pause();
  child.kill(signal);
  await new Promise((resolve) => setTimeout(resolve, 300));
  child.stdout.resume();
  return { status: await end, said, complained };
}

const refusal = async (file: string) => {
  const data = join(scratchFolder(), 'data');
  const { status, rows } = await runHere(['import', file, '--json', ...at(data)]);
  expect((await runHere(['due', '--json', ...at(data)])).rows).toMatchObject([
    { error: { code: 'refused' } },
  ]);
  return { status, row: rows.at(-1) };
};
const REFUSED = {
  status: 1,
  row: { did: 'nothing', error: { code: 'refused', message: 'Nothing was imported.' } },
};

it.each(['SIGINT', 'SIGTERM', 'SIGKILL'] as const)(
  'ended by %s, the file of before stands, and the next call writes it whole',
  async (signal) => {
    for (let tries = 0; ; tries++) {
      const folder = scratchFolder();
      const [file, part] = [join(folder, 'all.json'), join(folder, '.all.json.part')];
      writeFileSync(file, 'of before');
      const { status, said, complained } = await ended(file, signal, () => existsSync(part));
      // On a busy machine it may be done before it is ended.
      if (status === 0 && tries < 5) continue;
      expect(readFileSync(file, 'utf8')).toBe('of before');
      if (signal === 'SIGKILL') {
        expect(status).toBeNull();
        expect(await refusal(part)).toMatchObject(REFUSED);
      } else {
        expect([status, JSON.parse(said)]).toEqual([
          1,
          {
            error: {
              code: 'interrupted',
              message: 'Interrupted: nothing was exported.',
              hint: expect.stringContaining('Give it again'),
            },
          },
        ]);
        expect(complained).toContain('stanchion: Interrupted: nothing was exported.');
        expect(readdirSync(folder)).toEqual(['all.json']);
      }
      expect((await runHere(['export', file, '--force', ...at()])).status).toBe(0);
      expect(readFileSync(file, 'utf8')).toBe(whole);
      expect(readdirSync(folder)).toEqual(['all.json']);
      return;
    }
  },
);

it('what was piped on before it was ended is said to be no whole export, and is refused', async () => {
  const { status, said, complained } = await ended('-', 'SIGINT', (soFar) => soFar !== '');
  expect([status, whole.startsWith(said), said === whole]).toEqual([1, true, false]);
  expect(complained).toContain('Interrupted: nothing was exported.');
  const file = join(scratchFolder(), 'piped.json');
  writeFileSync(file, said);
  expect(await refusal(file)).toMatchObject(REFUSED);
});

it('cut wherever, or with one row less, an export is refused, and the whole is taken', async () => {
  const file = join(scratchFolder(), 'cut.json');
  const lines = whole.split('\n');
  for (let i = 1; i < CUTS; i++) {
    writeFileSync(file, whole.slice(0, Math.round((whole.length * i) / CUTS)));
    expect(await refusal(file)).toMatchObject(REFUSED);
  }
  // Well-formed still: a row of the ledger is missing.
  const facts = lines.findIndex((line) => line.startsWith('"fact": ['));
  writeFileSync(file, lines.filter((_, i) => i !== facts + 3).join('\n'));
  expect(() => JSON.parse(readFileSync(file, 'utf8'))).not.toThrow();
  expect(await refusal(file)).toMatchObject(REFUSED);
  writeFileSync(file, whole);
  const data = join(scratchFolder(), 'data');
  expect((await runHere(['import', file, ...at(data)])).status).toBe(0);
  expect((await runHere(['export', '-', ...at(data)])).stdout).toBe(whole);
});
