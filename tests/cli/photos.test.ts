/** What becomes of photographs where a store is checked, copied, carried elsewhere and put back. */
import { cpSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { originalsIn } from '../../src/inbox/originals.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { putLedger } from '../faults/serving.js';
import { addRings } from '../fixtures/photos.js';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const AT = instant(Date.parse('2026-06-10T09:00:00Z'));

async function ledgerWithPhoto() {
  const data = scratchFolder();
  await putLedger(data);
  const store = await openStore(join(data, 'stanchion.db'), AT);
  await store.write((tx) => addRings(tx, originalsIn(join(data, 'photos')), 'F-1', AT));
  await store.close();
  const run = (...args: string[]) => runHere([...args, '--data', data]);
  const folder = readdirSync(join(data, 'photos'))[0]!;
  const name = readdirSync(join(data, 'photos', folder))[0]!;
  return { data, run, file: join(data, 'photos', folder, name), path: `photos/${folder}/${name}` };
}

it('the check names a file that is missing, one that is damaged, and one that nothing names', async () => {
  const { data, run, file, path } = await ledgerWithPhoto();
  expect(await run('check', '--json')).toMatchObject({ status: 0, rows: [{ ok: true, unnamedFiles: [] }] });
  const stray = await originalsIn(join(data, 'photos')).keep(Buffer.from('stray'));
  const strayed = await run('check');
  expect(strayed.status).toBe(0);
  expect(strayed.stdout).toContain(`photos/${stray.slice(0, 2)}/${stray}: no photograph uses it.`);
  writeFileSync(file, 'half a pic');
  const damaged = await run('check');
  expect(damaged.status).toBe(3);
  expect(damaged.stdout).toContain(`${path} is damaged`);
  rmSync(file);
  const missing = await run('check', '--json');
  expect(missing.status).toBe(3);
  expect(missing.rows).toMatchObject([
    { ok: false, faults: [expect.stringContaining(`${path} is missing`)] },
  ]);
});

it('a restored backup brings the photographs that lie with it, and says how many are missing else', async () => {
  const { data, run } = await ledgerWithPhoto();
  const elsewhere = scratchFolder();
  const backup = join(elsewhere, 'backups', 'stanchion.db');
  mkdirSync(join(elsewhere, 'backups'));
  const made = await run('backup', backup);
  expect(made.stdout).toContain('photographs in photos/');
  const bare = scratchFolder();
  const without = await runHere(['restore', backup, '--data', bare]);
  expect(without.stdout).toContain(
    'Files of photographs that are missing: 1. Copy the old folder photos/ here',
  );
  expect((await runHere(['check', '--data', bare])).status).toBe(3);

  // As the nightly copy of the data folder lies: photos/ beside backups/.
  cpSync(join(data, 'photos'), join(elsewhere, 'photos'), { recursive: true });
  const whole = scratchFolder();
  const restored = await runHere(['restore', backup, '--json', '--data', whole]);
  expect(restored.rows).toMatchObject([{ photos: { brought: 1, missing: 0 } }]);
  expect((await runHere(['check', '--json', '--data', whole])).rows).toMatchObject([{ ok: true }]);
});

it('an older backup leaves the photographs of the newer store for a month', async () => {
  const { data, run, path } = await ledgerWithPhoto();
  const before = join(scratchFolder(), 'before.db');
  const newer = join(scratchFolder(), 'newer.db');
  const empty = scratchFolder();
  await putLedger(empty);
  await runHere(['backup', before, '--data', empty]);
  await run('backup', newer);
  expect((await run('restore', before, '--json')).rows).toMatchObject([
    { photos: { brought: 0, missing: 0 } },
  ]);
  expect((await run('check', '--json')).rows).toMatchObject([{ ok: true, unnamedFiles: [path] }]);
  expect(await originalsIn(join(data, 'photos')).listUntouched(86_400_000)).toEqual([]);
  await run('restore', newer);
  expect((await run('check', '--json')).rows).toMatchObject([{ ok: true, unnamedFiles: [] }]);
});

it('an export carries what is said of photographs, and their folder goes beside it', async () => {
  const { data, run, path } = await ledgerWithPhoto();
  const file = join(scratchFolder(), 'ledger.json');
  const exported = await run('export', file);
  expect(exported.stdout).toContain('photographs in photos/');
  const second = scratchFolder();
  expect((await runHere(['import', file, '--data', second])).status).toBe(0);
  const missing = await runHere(['check', '--json', '--data', second]);
  expect(missing.rows).toMatchObject([
    { ok: false, faults: [expect.stringContaining(`${path} is missing`)] },
  ]);
  cpSync(join(data, 'photos'), join(second, 'photos'), { recursive: true });
  expect((await runHere(['check', '--json', '--data', second])).rows).toMatchObject([
    { ok: true, unnamedFiles: [] },
  ]);
});
