import { html } from 'hono/html';
import { z } from 'zod';
import { STATES } from '../../core/tokens.js';
import { DUE_ROWS_A_PAGE, type DuePage, getDuePage } from '../../flow/due/duePage.js';
import type { DueUnit } from '../../flow/due/listDue.js';
import type { NamedRow } from '../../flow/due/namedRows.js';
import { likelyCell, movingCell, stateCell, terrainCell, unitCell, whoCell } from '../cells/dueCells.js';
import { listLink } from '../cells/listLink.js';
import { nextStep } from '../cells/nextStep.js';
import type { WebDeps } from '../deps.js';
import { cautions, page } from '../layout.js';
import { choice, dense, field, type Markup, NOTHING, type Row, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { likelyText, timeText } from '../show.js';
import type { Viewer } from '../viewer.js';

const querySchema = z.object({
  state: z.enum(STATES).optional().catch(undefined),
  find: z.string().trim().max(100).catch('').default(''),
  page: z.coerce.number().int().min(1).max(10_000).catch(1).default(1),
});
type Query = z.infer<typeof querySchema>;

export function duePage(pages: Pages, { store }: WebDeps): void {
  pages.get('/due', async (c) => {
    const viewer = c.get('viewer');
    const query = querySchema.parse(c.req.query());
    const view = await store.read((tx) => getDuePage(tx, query, viewer.now));
    return c.html(
      page(viewer, { title: viewer.texts.due.title, current: 'due', body: body(viewer, view, query) }),
    );
  });
}

const sum = (counts: DuePage['counts']): number =>
  [...counts.values()].reduce((all, count) => all + count, 0);

function body(viewer: Viewer, { units, counts, asOf, found }: DuePage, query: Query): Markup {
  const { texts } = viewer;
  const from = (query.page - 1) * DUE_ROWS_A_PAGE;
  const isEmpty = sum(counts) === 0 && query.find === '';
  return html`
<h1>${texts.due.title}</h1>
<p class="lead">${texts.due.lead}${asOf === null ? '' : ` ${texts.due.asOf(timeText(asOf, viewer))}`}</p>
${isEmpty ? nextStep(texts.due.nothing, '/customers/new', texts.customer.title) : html`${tally(viewer, counts, query)}${filter(viewer, query)}`}
${when(units.length > 0, () => dueTable(viewer, units))}
${when(!isEmpty && units.length === 0, () => html`<p>${texts.due.none}</p>`)}
${pager(viewer, query, from, units.length, found)}
${when(!isEmpty, () => listLink(viewer, 'due', { state: query.state, find: query.find }))}
${when(!isEmpty, () => html`<p class="soft">${texts.severityNote}</p>${cautions(viewer)}`)}`;
}

const linkTo = ({ state, find, page: at }: Partial<Query>): string => {
  const query = new URLSearchParams();
  if (state) query.set('state', state);
  if (find) query.set('find', find);
  if (at !== undefined && at > 1) query.set('page', String(at));
  return query.size === 0 ? '/due' : `/due?${query}`;
};

function tally({ texts, words }: Viewer, of: DuePage['counts'], { find, state }: Query): Markup {
  const counts = STATES.map((one) => ({ one, count: of.get(one) ?? 0 }));
  return html`<ul class="tally" aria-label="${texts.due.tally}">${counts
    .filter(({ count }) => count > 0)
    .map(
      ({ one, count }) =>
        html`<li><a href="${linkTo({ state: one, find })}"${one === state ? html` aria-current="true"` : ''}>${words.number(count)} ${words.state[one]}</a></li>`,
    )}</ul>`;
}

const filter = ({ texts, words }: Viewer, { state, find }: Query): Markup => html`
<form class="row" method="get" action="/due" role="search" aria-label="${texts.due.search}">
${field({ name: 'find', label: texts.due.search, value: find, type: 'search' })}
${choice({
  name: 'state',
  label: texts.due.state,
  value: state ?? '',
  choices: [
    { value: '', label: texts.due.anyState },
    ...STATES.map((one) => ({ value: one, label: words.state[one] })),
  ],
})}
<div class="field"><button>${texts.due.show}</button></div>
${when(state !== undefined || find !== '', () => html`<p class="field"><a href="/due">${texts.due.showAll}</a></p>`)}
</form>`;

function dueTable(viewer: Viewer, units: readonly DueUnit<NamedRow>[]): Markup {
  const { columns, likelyHint } = viewer.texts.due;
  const { unit, service, state, likely, terrain, moving, who } = columns;
  return dense(
    [
      { label: unit },
      { label: service },
      { label: state },
      { label: likely, note: likelyHint },
      { label: terrain, isFigure: true },
      { label: moving, isFigure: true },
      { label: who },
    ],
    units.map((one) => rowOf(viewer, one)),
  );
}

const rowOf = (viewer: Viewer, { first, rest }: DueUnit<NamedRow>): Row => ({
  head: unitCell(viewer, first),
  cells: [
    html`${viewer.words.serviceKind(first.serviceKind)}${when(rest.length > 0, () => foldedRows(viewer, rest))}`,
    stateCell(viewer, first),
    likelyCell(viewer, first),
    terrainCell(viewer, first),
    movingCell(viewer, first),
    whoCell(viewer, first),
  ],
});

/** The unit's other services, in a drawer: a line each. */
const foldedRows = (viewer: Viewer, rest: readonly NamedRow[]): Markup => html`
<details class="screen"><summary>${viewer.texts.due.others(rest.length)}</summary>${rest.map(
  (row) =>
    html`<div class="folded"><b>${viewer.words.serviceKind(row.serviceKind)}</b>, ${stateCell(viewer, row)}: ${likelyText(row.likely, viewer).middle}; ${terrainCell(viewer, row)}</div>`,
)}</details>`;

function pager({ texts }: Viewer, query: Query, from: number, shown: number, all: number): Markup {
  if (all <= DUE_ROWS_A_PAGE) return NOTHING;
  const last = from + shown;
  return html`<nav class="pages" aria-label="${texts.due.count(from + 1, last, all)}">
<span>${texts.due.count(from + 1, last, all)}</span>
${when(query.page > 1, () => html`<a href="${linkTo({ ...query, page: query.page - 1 })}">${texts.due.previous}</a>`)}
${when(last < all, () => html`<a href="${linkTo({ ...query, page: query.page + 1 })}">${texts.due.next}</a>`)}
</nav>`;
}
