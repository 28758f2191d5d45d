/** The three numbers that the workshop edits, as a command. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, it } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
let data = '';
const run = (...args: string[]) => runHere([...args, '--data', data, '--now', NOW]);

beforeEach(async () => {
  data = scratchFolder();
  const file = join(data, 'setup.json');
  writeFileSync(
    file,
    JSON.stringify({
      workshop: { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['mon'] },
      bikes: [{ id: 'b1', name: 'Bike one', type: 'trail' }],
      units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
      fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-01-01' }],
      hours: Array.from({ length: 15 }, (_, i) => ({
        bike: 'b1',
        on: `2025-0${1 + (i % 5)}-1${i % 9}`,
        minutes: 120,
        ground: 'rough',
      })),
    }),
  );
  expect((await run('import', file)).status).toBe(0);
});

const stateOf = async (): Promise<unknown> =>
  (await run('due', '--json')).rows.find((row) => row.serviceKind === 'lower-leg')!.state;

it('shows the default, then who set what and when', async () => {
  expect((await run('weights', '--json')).rows).toEqual([
    { smooth: 0.5, typical: 1, rough: 2, landing: 10, isDefault: true, history: [] },
  ]);
  await run('weights', '--rough', '1.5');
  await run('weights', '--smooth', '0.8');
  expect((await run('weights', '--json')).rows).toEqual([
    {
      smooth: 0.8,
      typical: 1,
      rough: 1.5,
      landing: 10,
      isDefault: false,
      history: [
        { smooth: 0.5, typical: 1, rough: 1.5, by: 'command line', at: NOW },
        { smooth: 0.8, typical: 1, rough: 1.5, by: 'command line', at: NOW },
      ],
    },
  ]);
  const { stdout } = await run('weights');
  expect(stdout).toMatch(/smooth +typical +rough +landing +set by/);
});

it('names the units that would change state, changes nothing, and names the same once it does', async () => {
  // 30 hours of rough ground weigh 60: over 50, not yet a quarter over.
  expect(await stateOf()).toBe('due');
  const dry = await run('weights', '--rough', '1', '--dry', '--json');
  expect(dry.rows).toEqual([
    {
      did: 'nothing',
      ids: [],
      problems: [],
      weights: { smooth: 0.5, typical: 1, rough: 1 },
      changes: [{ unit: 'F-1', serviceKind: 'lower-leg', before: 'due', after: 'in-time' }],
    },
  ]);
  expect(await stateOf()).toBe('due');
  const told = await run('weights', '--rough', '1', '--dry');
  expect(told.stdout).toMatch(/F-1 +lower-leg service +due +in time/);
  expect(told.stdout).toContain('Nothing was changed.');
  const saved = await run('weights', '--rough', '1', '--json');
  expect(saved.rows).toMatchObject([
    { did: 'weights', changes: dry.rows[0]!.changes, ids: [expect.any(String)] },
  ]);
  expect(await stateOf()).toBe('in-time');
  expect((await run('check', '--json')).rows).toMatchObject([{ ok: true }]);
  expect((await run('weights', '--rough', '1', '--json')).rows).toMatchObject([{ ids: [], changes: [] }]);
});

it('refuses what is out of range or falls, dry or not, and wrong use', async () => {
  for (const [args, status, said] of [
    [['--rough', '5'], 1, /from 0.5 to 3/],
    [['--rough', '5', '--dry'], 1, /from 0.5 to 3/],
    [['--smooth', '1.5'], 1, /Terrain weights cannot fall as the ground gets rougher/],
    [['--smooth', 'much'], 2, /must be a number/],
  ] as const) {
    const refused = await run('weights', ...args);
    expect([refused.status, refused.stderr]).toEqual([status, expect.stringMatching(said)]);
  }
  expect((await run('weights', '--json')).rows).toMatchObject([{ isDefault: true }]);
});

it('sets what a second in the air adds, 0 too, and keeps it when another number changes', async () => {
  await run('weights', '--landing', '0');
  await run('weights', '--rough', '1.8');
  expect((await run('weights', '--json')).rows[0]).toMatchObject({ rough: 1.8, landing: 0 });
  const wrong = await run('weights', '--landing', '90');
  expect(wrong.status).toBe(1);
  expect(wrong.stderr).toContain('from 0 to 60 terrain seconds');
});
