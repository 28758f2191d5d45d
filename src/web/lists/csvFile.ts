import { stringify } from 'csv-stringify/sync';
import type { Context } from 'hono';
import type { ListRow } from '../../flow/counter/lists.js';
import type { WebEnv } from '../viewer.js';

/** A text that a spreadsheet would take for a formula is marked as a text; the first sign tells it how letters are written. */
export function asFile(c: Context<WebEnv>, name: string, rows: readonly ListRow[]): Response {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const body = stringify([...rows], {
    ...{ header: true, columns, bom: true, escape_formulas: true },
    cast: { boolean: (value) => (value ? 'true' : 'false') },
  });
  return c.body(body, 200, {
    'content-type': 'text/csv; charset=utf-8',
    'content-disposition': `attachment; filename="${name}"`,
  });
}
