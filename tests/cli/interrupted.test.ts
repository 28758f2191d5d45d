/** Long work that is interrupted: what stands, what is said of it, and that it goes on when it is given again. */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { rideFit, straightRide } from '../fixtures/fitFile.js';
import { PROGRAM, runProgram, scratchFolder } from '../fixtures/program.js';
import { atTerminal, CTRL_C } from '../fixtures/terminal.js';

const NOW = '2025-06-18T12:00:00Z';
const FILES = 400;

it.each(['SIGINT', 'SIGTERM'] as const)(
  'take, interrupted by %s, keeps what it took, says how many files are left, and goes on',
  async (signal) => {
    const data = scratchFolder();
    const setup = join(data, 'setup.json');
    const workshop = { id: 'w1', name: 'Test bench', timeZone: 'UTC', openDays: ['tue'] };
    const bikes = [{ id: 'b1', rider: null, name: 'Bike one', type: 'trail' }];
    const units = [{ tag: 'F-1', unitKind: 'fork', history: 'new' }];
    const fittings = [{ unit: 'F-1', bike: 'b1', from: '2020-01-01' }];
    writeFileSync(setup, JSON.stringify({ workshop, bikes, units, fittings }));
    const at = ['--data', data, '--now', NOW];
    expect(runProgram(['import', setup, ...at]).status).toBe(0);
    const rides = join(data, 'rides');
    mkdirSync(rides);
    for (let i = 0; i < FILES; i++) {
      const startMs = Date.parse('2025-06-10T08:00:00Z') - i * 86_400_000;
      const samples = straightRide(startMs, 61);
      writeFileSync(join(rides, `${i}.fit`), rideFit({ samples, sessions: [{ startMs, sport: 2 }] }).bytes());
    }
    const take = ['take', rides, '--bike', 'b1', '--json', ...at];
    const child = spawn(process.execPath, [PROGRAM, ...take], { stdio: ['ignore', 'pipe', 'inherit'] });
    let said = '';
    let isAsked = false;
    child.stdout.on('data', (chunk) => {
      said += String(chunk);
      if (!isAsked) child.kill(signal);
      isAsked = true;
    });
    const status = await new Promise((resolve) => child.once('close', resolve));
    const rows = said
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as { outcome?: string; error?: { code: string; message: string } });
    const taken = rows.filter(({ outcome }) => outcome === 'counted').length;
    expect([status, rows.at(-1)!.error]).toEqual([
      1,
      {
        code: 'interrupted',
        message: `Interrupted: ${FILES - taken} files are left.`,
        hint: expect.stringContaining('same command again'),
      },
    ]);
    expect(taken).toBeGreaterThan(0);
    const again = runProgram(take).rows;
    expect(again.filter(({ outcome }) => outcome === 'counted-already')).toHaveLength(taken);
    expect(again.filter(({ outcome }) => outcome === 'counted')).toHaveLength(FILES - taken);
    expect(runProgram(['check', '--json', ...at]).rows).toMatchObject([{ ok: true }]);
    const [due] = runProgram(['due', '--json', ...at]).rows;
    // A minute each.
    expect(due!.movingHoursSince).toBeCloseTo(FILES / 60, 2);
  },
);

/** So many that each of the commands takes seconds. */
const UNITS = 200;

it('check, backup, restore, move and import show how far they are; Ctrl-C ends them at once and half a thing is left nowhere', async () => {
  const data = scratchFolder();
  const setup = join(data, 'setup.json');
  const ids = Array.from({ length: UNITS }, (_, i) => i);
  writeFileSync(
    setup,
    JSON.stringify({
      workshop: { id: 'w1', name: 'Test bench', timeZone: 'UTC', openDays: ['tue'] },
      bikes: ids.map((i) => ({ id: `b${i}`, rider: null, name: `Bike ${i}`, type: 'trail' })),
      units: ids.map((i) => ({ tag: `F-${i}`, unitKind: 'fork', history: 'new' })),
      fittings: ids.map((i) => ({ unit: `F-${i}`, bike: `b${i}`, from: '2025-01-01' })),
      hours: ids.map((i) => ({ bike: `b${i}`, on: '2025-06-01', minutes: 60, ground: 'rough' })),
    }),
  );
  const at = ['--data', data, '--now', NOW];
  expect(runProgram(['import', setup, ...at]).status).toBe(0);
  const [copy, other] = [join(data, 'copy.db'), scratchFolder()];
  expect(runProgram(['backup', copy, ...at]).status).toBe(0);
  const before = (): string[] =>
    readdirSync(data).filter((name) => !/^whole|replaced|^stanchion\.db-/.test(name));
  const there = before();
  const cases: readonly (readonly [args: (nth: string) => string[], shows: RegExp, says: RegExp])[] = [
    [() => ['check', ...at], /again[^\n]*: \d+ left/, /the rest was not checked.*changes nothing/s],
    [
      (nth) => ['backup', join(data, `whole-${nth}.db`), ...at],
      /again[^\n]*: \d+ left/,
      /no backup was made.*Give the command again/s,
    ],
    [() => ['restore', copy, ...at], /again[^\n]*: \d+ left/, /nothing was restored; the store is as it was/],
    [
      (nth) => ['move', join(other, `${nth}.db`), ...at],
      /(copying|comparing) \w+: \d+ left/,
      /nothing was moved.*as it was/s,
    ],
    [
      (nth) => ['import', setup, '--data', join(other, nth), '--now', NOW],
      /(taking \w+|hours of units): \d+ left/,
      /nothing was imported.*same file again/s,
    ],
  ];
  for (const [argsOf, shows, says] of cases) {
    const [name] = argsOf('');
    // Where it was done before the key came it is tried anew.
    let [terminal, status, nth] = [atTerminal(argsOf('0')), null as number | null, 0];
    for (;;) {
      await terminal.until(shows);
      terminal.type(CTRL_C);
      status = await terminal.ended;
      if (status !== 0 || nth === 4) break;
      nth += 1;
      terminal = atTerminal(argsOf(String(nth)));
    }
    expect([name, status], terminal.said()).toEqual([name, 1]);
    expect(terminal.said()).toMatch(says);
    expect(terminal.said()).toContain('stanchion: Interrupted:');
    expect([name, before()]).toEqual([name, there]);
    if (name === 'backup') expect(existsSync(join(data, `whole-${nth}.db`))).toBe(false);
    // Given again it goes on.
    const again = runProgram([...argsOf(String(nth)), '--json']);
    expect([name, again.status, again.rows.at(-1)!.error]).toEqual([name, 0, undefined]);
  }
  expect(runProgram(['check', '--json', ...at]).rows).toMatchObject([{ ok: true }]);
});

it('restore asks at a terminal whether to delete what was there, and takes nothing but yes for yes', async () => {
  const data = scratchFolder();
  const setup = join(data, 'setup.json');
  const workshop = { id: 'w1', name: 'Test bench', timeZone: 'UTC', openDays: ['tue'] };
  writeFileSync(setup, JSON.stringify({ workshop }));
  const at = ['--data', data, '--now', NOW];
  expect(runProgram(['import', setup, ...at]).status).toBe(0);
  const copy = join(data, 'copy.db');
  expect(runProgram(['backup', copy, ...at]).status).toBe(0);
  const kept = (): number => readdirSync(data).filter((name) => /\.replaced-[^.]*$/.test(name)).length;
  const answers: readonly (readonly [keys: string, says: RegExp, kept: number])[] = [
    ['yes\r', /What was there before is deleted/, 0],
    ['y\r', /What was there before is deleted/, 0],
    ['\r', /What was there is kept as .*still holds who was forgotten/, 1],
    ['ja\r', /What was there is kept as/, 2],
  ];
  for (const [keys, says, count] of answers) {
    const terminal = atTerminal(['restore', copy, ...at]);
    await terminal.until(/Delete what was there before \(.*replaced-.*\)\? \[y\/N\] /s);
    terminal.type(keys);
    expect([keys, await terminal.ended]).toEqual([keys, 0]);
    expect(terminal.said()).toMatch(says);
    expect([keys, kept()]).toEqual([keys, count]);
  }
});
