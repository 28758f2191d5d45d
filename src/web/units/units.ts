import { html } from 'hono/html';
import { z } from 'zod';
import type { NamedRow } from '../../flow/due/namedRows.js';
import { getUnitsPage, UNITS_SHOWN, type UnitsPage } from '../../flow/due/unitsPage.js';
import { likelyCell, stateCell, unitCell, whoCell } from '../cells/dueCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { field, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

const querySchema = z.object({ find: z.string().trim().max(100).catch('').default('') });

export function unitsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/units', async (c) => {
    const viewer = c.get('viewer');
    const { find } = querySchema.parse(c.req.query());
    const found = await store.read((tx) => getUnitsPage(tx, find, viewer.now));
    return c.html(
      page(viewer, { title: viewer.texts.units.title, current: 'units', body: body(viewer, found, find) }),
    );
  });
}

function body(viewer: Viewer, { isEmpty, count, rows }: UnitsPage, find: string): Markup {
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
${when(count > UNITS_SHOWN, () => html`<p>${texts.due.count(1, UNITS_SHOWN, count)}</p>`)}
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
