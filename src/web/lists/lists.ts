import { stringify } from 'csv-stringify/sync';
import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { z } from 'zod';
import { LISTS, type ListName, type ListRow, listRiderHistory } from '../../flow/counter/lists.js';
import type { WebDeps } from '../deps.js';
import type { Pages } from '../routes.js';
import type { WebEnv } from '../viewer.js';

const text = z.string().trim().max(100).optional().catch(undefined);
const filterSchema = z.object({
  state: text,
  find: text,
  year: z
    .string()
    .regex(/^\d{4}$/)
    .optional()
    .catch(undefined),
});

/** Every list as a file for a spreadsheet, with its filter; and a rider's history, to hand over. */
export function listsPages(pages: Pages, { store }: WebDeps): void {
  pages.get('/lists/:list', async (c) => {
    const name = /^([a-z]+)\.csv$/.exec(c.req.param('list'))?.[1] ?? '';
    if (!Object.hasOwn(LISTS, name)) throw new HTTPException(404);
    const filter = filterSchema.parse(c.req.query());
    const { now, today } = c.get('viewer');
    const rows = await store.read((tx) => LISTS[name as ListName](tx, filter, now));
    return asFile(c, `${name}-${filter.year ?? today}.csv`, rows);
  });

  pages.get('/riders/:handle/history', async (c) => {
    const rows = await store.read((tx) => listRiderHistory(tx, c.req.param('handle')));
    return asFile(c, `history-${c.get('viewer').today}.csv`, rows);
  });
}

/** A text that a spreadsheet would take for a formula is marked as a text; the first sign tells it how letters are written. */
function asFile(c: Context<WebEnv>, name: string, rows: readonly ListRow[]): Response {
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
