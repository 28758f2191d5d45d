import { HTTPException } from 'hono/http-exception';
import { z } from 'zod';
import { LISTS, type ListName, listRiderHistory } from '../../flow/counter/lists.js';
import type { WebDeps } from '../deps.js';
import type { Pages } from '../routes.js';
import { asFile } from './csvFile.js';

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
    const { now, today, fleet } = c.get('viewer');
    const filter = { ...filterSchema.parse(c.req.query()), fleetId: fleet?.id };
    const rows = await store.read((tx) => LISTS[name as ListName](tx, filter, now));
    return asFile(c, `${name}-${filter.year ?? today}.csv`, rows);
  });

  pages.get('/riders/:handle/history', async (c) => {
    const rows = await store.read((tx) => listRiderHistory(tx, c.req.param('handle')));
    return asFile(c, `history-${c.get('viewer').today}.csv`, rows);
  });
}
