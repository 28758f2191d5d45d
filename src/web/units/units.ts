import { html } from 'hono/html';
import type { NamedRow } from '../../flow/due/namedRows.js';
import { getUnitsPage, UNITS_SHOWN, type UnitsPage } from '../../flow/due/unitsPage.js';
import { likelyCell, stateCell, unitCell, whoCell } from '../cells/dueCells.js';
import { listLink } from '../cells/listLink.js';
import { nextStep } from '../cells/nextStep.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

export function unitsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/units', async (c) => {
    const viewer = c.get('viewer');
    const found = await store.read((tx) => getUnitsPage(tx, viewer.now));
    return c.html(
      page(viewer, { title: viewer.texts.units.title, current: 'units', body: body(viewer, found) }),
    );
  });
}

function body(viewer: Viewer, { count, rows }: UnitsPage): Markup {
  const { texts } = viewer;
  const { units } = texts;
  if (count === 0)
    return html`<h1>${units.title}</h1><p class="lead">${units.lead}</p>
${nextStep(texts.due.nothing, '/customers/new', texts.customer.title)}`;
  return html`
<h1>${units.title}</h1>
<p class="lead">${units.lead}</p>
<p class="screen"><a class="button" href="/units/new">${texts.customer.box.title}</a></p>
${unitTable(viewer, rows)}
${listLink(viewer, 'units')}
${when(count > UNITS_SHOWN, () => html`<p>${texts.due.count(1, UNITS_SHOWN, count)}</p>`)}`;
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
