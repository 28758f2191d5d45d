import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { Migrator } from 'kysely';
import { expect, test } from 'vitest';
import { MIGRATIONS } from '../../migrations/index.js';
import { openEngine, openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { VERSION } from '../../src/version.js';
import { scratchFolder } from '../fixtures/program.js';

const NOW = instant(0);

test('a store that a newer program made is refused with what to do, and is left as it is', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  await (await openStore(path, NOW)).close();
  const database = new SQLite(path);
  database
    .prepare('INSERT INTO kysely_migration (name, timestamp) VALUES (?, ?)')
    .run('9999_make_something_new', new Date(0).toISOString());
  database.exec(`INSERT INTO program_version SELECT id, ${Date.now() + 60_000}, '9.9.9' FROM workshop`);
  database.close();
  await expect(openStore(path, NOW)).rejects.toMatchObject({
    code: 'store-failed',
    message: `The database was made by a newer Stanchion, 9.9.9: this is ${VERSION}.`,
    hint: expect.stringMatching(/^Update this program, or restore a backup/),
  });
  const after = new SQLite(path, { readonly: true });
  expect(after.prepare('SELECT count(*) AS n FROM workshop').get()).toEqual({ n: 1 });
  after.close();
});

/** What a database has, in whatever order it was added. */
function shapeOf(path: string): string[] {
  const database = new SQLite(path, { readonly: true });
  const things = database
    .prepare("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND type <> 'table'")
    .all() as { name: string; sql: string }[];
  const columns = database
    .prepare(
      `SELECT s.name || '.' || c.name || ' ' || c.type || ' ' || c."notnull" || ' ' || c.pk
       FROM sqlite_schema s JOIN pragma_table_info(s.name) c WHERE s.type = 'table'`,
    )
    .pluck()
    .all() as string[];
  database.close();
  return [...columns, ...things.map(({ name, sql }) => `${name} ${sql}`)].sort();
}

/** Those that were written side by side, by several people at once; on the table of mailed rides others build. */
const BESIDE = Object.keys(MIGRATIONS).filter((name) => name >= '0140' && name !== '0150_take_mails');

test.each(BESIDE)('a store that has all tables but those of %s is brought up to date', async (name) => {
  const [whole, path] = [join(scratchFolder(), 'stanchion.db'), join(scratchFolder(), 'stanchion.db')];
  await (await openStore(whole, NOW)).close();
  const engine = openEngine(path);
  const { [name]: _left, ...others } = MIGRATIONS;
  const before = new Migrator({ db: engine.writing, provider: { getMigrations: async () => others } });
  expect((await before.migrateToLatest()).error).toBe(undefined);
  await engine.close();
  await (await openStore(path, NOW)).close();
  expect(shapeOf(path)).toEqual(shapeOf(whole));
});

test('what is no database is refused, naming it', async () => {
  const folder = scratchFolder();
  await expect(openStore(folder, NOW)).rejects.toMatchObject({
    code: 'store-failed',
    message: expect.stringContaining(folder),
  });
});

test('tables are made all or not at all, so that a program killed meanwhile can start again', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  const database = new SQLite(path);
  // Makes the last of the tables fail.
  database.exec('CREATE TABLE inbox_file (x)');
  await expect(openStore(path, NOW)).rejects.toThrow(/inbox_file/);
  const tables = database
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'kysely%'")
    .pluck()
    .all();
  expect(tables).toEqual(['inbox_file']);
  database.exec('DROP TABLE inbox_file');
  database.close();
  await (await openStore(path, NOW)).close();
});

test('the store knows which version of the program wrote to it before', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  const first = await openStore(path, NOW);
  expect(first.writtenBy).toBe(null);
  await first.close();
  const again = new SQLite(path);
  again.exec("UPDATE program_version SET version = '0.0.9', since_ms = 5");
  again.close();
  const second = await openStore(path, NOW);
  expect(second.writtenBy).toBe('0.0.9');
  await second.close();
  const third = await openStore(path, NOW);
  expect(third.writtenBy).toBe('0.0.9');
  await third.close();
  const kept = new SQLite(path, { readonly: true });
  expect(kept.prepare('SELECT version FROM program_version ORDER BY since_ms').pluck().all()).toEqual([
    '0.0.9',
    VERSION,
  ]);
  kept.close();
});
