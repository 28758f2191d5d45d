/** What the migrations make stands beside them to be read; after a change: `npx vitest run tests/store/schema -u`. */
import { join, resolve } from 'node:path';
import SQLite from 'better-sqlite3';
import { expect, test } from 'vitest';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { scratchFolder } from '../fixtures/program.js';

const SNAPSHOT = resolve(import.meta.dirname, '../../migrations/schema.sqlite.sql');

test('the snapshot is what the migrations make', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  await (await openStore(path, instant(0))).close();
  const database = new SQLite(path, { readonly: true });
  const rows = database
    .prepare(
      "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY tbl_name, type DESC, name",
    )
    .all() as { sql: string }[];
  database.close();
  // A column a line, so that a change shows as what it is.
  const text = rows
    .map(({ sql }) => `${sql.replace(/, (?=("|constraint|foreign))/g, ',\n  ')};\n`)
    .join('\n');
  await expect(text).toMatchFileSnapshot(SNAPSHOT);
});

test('every table but those of the migrations themselves carries its workshop', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  await (await openStore(path, instant(0))).close();
  const database = new SQLite(path, { readonly: true });
  const tables = database
    .prepare(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT LIKE 'kysely_%'",
    )
    .all() as { name: string }[];
  const without = tables.filter(
    ({ name }) =>
      !(database.pragma(`table_info(${name})`) as { name: string }[]).some(
        (column) => column.name === 'workshop_id',
      ),
  );
  expect(without.map((table) => table.name)).toEqual(['workshop']);
  expect(tables.length).toBeGreaterThan(15);
  database.close();
});
