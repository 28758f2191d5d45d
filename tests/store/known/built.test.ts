import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ask, putRows } from '../../../src/store/known/built.js';
import { sqliteEngine } from '../../../src/store/sqlite.js';
import { scratchFolder } from '../../fixtures/program.js';

const CLOSE: (() => Promise<void>)[] = [];

async function withTable<T>(work: (asks: Parameters<typeof putRows>[0]) => Promise<T>): Promise<T> {
  const engine = sqliteEngine(join(scratchFolder(), 'made.db'));
  CLOSE.push(() => engine.close());
  await engine.writing.schema
    .createTable('handle')
    .addColumn('kind', 'text')
    .addColumn('handle', 'text', (column) => column.primaryKey())
    .addColumn('fact_seq', 'integer')
    .execute();
  return engine.write('w', (db) => work({ db, isShared: false, direct: engine.direct!.writing }));
}

test('rows beyond one statement are all put, and those that are there are put right', async () => {
  const rows = await withTable(async (asks) => {
    const row = (i: number, fact_seq: number) => ({ kind: 'unit', handle: `h${i}`, fact_seq });
    await putRows(
      asks,
      'handle',
      Array.from({ length: 37 }, (_, i) => row(i, i)),
      'handle',
    );
    await putRows(asks, 'handle', [row(3, 300), row(40, 40)], 'handle');
    return asks.db.selectFrom('handle').select(['handle', 'fact_seq']).execute();
  });
  expect(rows.length).toBe(38);
  expect(rows.reduce((sum, { fact_seq }) => sum + fact_seq, 0)).toBe((36 * 37) / 2 - 3 + 300 + 40);
});

test('a statement that takes its values in another order than they are given is refused', async () => {
  await withTable(async (asks) => {
    const asked = (values: readonly unknown[]) =>
      ask(asks, `in order ${values.join()}`, values, () =>
        asks.db.selectFrom('handle').selectAll().where('kind', '=', 'unit').where('handle', '=', 'h1'),
      );
    await expect(asked(['unit', 'h1'])).resolves.toEqual([]);
    await expect(asked(['h1', 'unit'])).rejects.toThrow('in another order');
    await expect(asked(['unit'])).rejects.toThrow('takes other values');
  });
});

test.afterAll(async () => {
  for (const close of CLOSE) await close();
});
