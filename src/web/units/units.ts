import { html } from 'hono/html';
import { z } from 'zod';
import { listDue, listDueOfMany } from '../../flow/due/listDue.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import {
  isSought,
  likelyCell,
  type NamedRow,
  stateCell,
  unitCell,
  whoCell,
  withNames,
} from '../cells/dueCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { field, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

const MOST_SHOWN = 200;
const querySchema = z.object({ find: z.string().trim().max(100).catch('').default('') });

export function unitsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/units', async (c) => {
    const viewer = c.get('viewer');
    const { find } = querySchema.parse(c.req.query());
    const found = await store.read((tx) => findUnits(tx, viewer.now, find));
    return c.html(
      page(viewer, { title: viewer.texts.units.title, current: 'units', body: body(viewer, found, find) }),
    );
  });
}

interface Found {
  readonly isEmpty: boolean;
  /** How many fit. */
  readonly count: number;
  /** The first of them. */
  readonly rows: readonly NamedRow[];
}

async function findUnits(tx: Tx, now: Instant, find: string): Promise<Found> {
  if (find !== '') {
    // Any name may hold what is sought, so every row is looked at.
    const all = await withNames(tx, await listDue(tx, now));
    const rows = nextOfEach(all).filter((row) => isSought(row, find));
    return { isEmpty: all.length === 0, count: rows.length, rows: rows.slice(0, MOST_SHOWN) };
  }
  const units = (await tx.facts.list('unit')).map(({ entityId, body: { tag } }) => ({ entityId, tag }));
  const shown = units.sort((a, b) => (a.tag < b.tag ? -1 : 1)).slice(0, MOST_SHOWN);
  const rows = await listDueOfMany(
    tx,
    shown.map(({ entityId }) => entityId),
    now,
  );
  return {
    isEmpty: units.length === 0,
    count: units.length,
    rows: nextOfEach(await withNames(tx, rows)),
  };
}

/** The first row of each unit in the list of what is due is what comes next for it. */
function nextOfEach(rows: readonly NamedRow[]): NamedRow[] {
  const first = new Map<string, NamedRow>();
  for (const row of rows) if (!first.has(row.unitId)) first.set(row.unitId, row);
  return [...first.values()].sort((a, b) => (a.unit < b.unit ? -1 : 1));
}

function body(viewer: Viewer, { isEmpty, count, rows }: Found, find: string): Markup {
  const { texts } = viewer;
  const { units } = texts;
  if (isEmpty) return html`<h1>${units.title}</h1><p>${units.nothing}</p>`;
  return html`
<h1>${units.title}</h1>
<p class="lead">${units.lead}</p>
<form class="row" method="get" action="/units" role="search">
${field({ name: 'find', label: texts.due.search, value: find, type: 'search' })}
<div class="field"><button>${texts.due.show}</button></div>
${when(find !== '', () => html`<p class="field"><a href="/units">${texts.due.showAll}</a></p>`)}
</form>
${rows.length === 0 ? html`<p>${units.none}</p>` : unitTable(viewer, rows)}
${when(count > MOST_SHOWN, () => html`<p>${texts.due.count(1, MOST_SHOWN, count)}</p>`)}
<p>${units.add}</p>`;
}

const unitTable = (viewer: Viewer, rows: readonly NamedRow[]): Markup => {
  const { columns } = viewer.texts.units;
  return table(
    [columns.unit, columns.who, columns.state, columns.next, columns.likely].map((label) => ({ label })),
    rows.map((row) => ({
      head: unitCell(viewer, row),
      cells: [
        whoCell(viewer, row),
        stateCell(viewer, row),
        html`${viewer.words.serviceKind(row.serviceKind)}`,
        likelyCell(viewer, row),
      ],
    })),
  );
};
