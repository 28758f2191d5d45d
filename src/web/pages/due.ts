import type { Hono } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { STATES } from '../../core/tokens.js';
import { type DueRow, listDue } from '../../flow/listDue.js';
import { type Instant, instant } from '../../units.js';
import type { WebDeps } from '../deps.js';
import {
  intervalCell,
  isSought,
  likelyCell,
  movingCell,
  type NamedRow,
  stateCell,
  terrainCell,
  unitCell,
  whoCell,
  withNames,
} from '../dueCells.js';
import { cautions, page } from '../layout.js';
import { choice, field, type Markup, NOTHING, type Row, table, when } from '../markup.js';
import { timeText } from '../show.js';
import type { Viewer, WebEnv } from '../viewer.js';

const ROWS_A_PAGE = 60;
const querySchema = z.object({
  state: z.enum(STATES).optional().catch(undefined),
  find: z.string().trim().max(100).catch('').default(''),
  page: z.coerce.number().int().min(1).max(10_000).catch(1).default(1),
});
type Query = z.infer<typeof querySchema>;

export function duePage(app: Hono<WebEnv>, { store }: WebDeps): void {
  app.get('/', async (c) => {
    const viewer = c.get('viewer');
    const query = querySchema.parse(c.req.query());
    const rows = await store.read(async (tx) => withNames(tx, await listDue(tx, viewer.now)));
    return c.html(
      page(viewer, { title: viewer.texts.due.title, current: 'due', body: body(viewer, rows, query) }),
    );
  });
}

function body(viewer: Viewer, all: readonly NamedRow[], query: Query): Markup {
  const { texts } = viewer;
  const found = all.filter((row) => isSought(row, query.find));
  const rows = query.state === undefined ? found : found.filter((row) => row.state === query.state);
  const from = (query.page - 1) * ROWS_A_PAGE;
  const shown = rows.slice(from, from + ROWS_A_PAGE);
  return html`
<h1>${texts.due.title}</h1>
<p class="lead">${texts.due.lead}${all.length === 0 ? '' : ` ${texts.due.asOf(timeText(oldest(all), viewer))}`}</p>
${all.length === 0 ? html`<p>${texts.due.nothing}</p>` : html`${tally(viewer, found, query)}${filter(viewer, query)}`}
${when(shown.length > 0, () => dueTable(viewer, shown))}
${when(all.length > 0 && shown.length === 0, () => html`<p>${texts.due.none}</p>`)}
${pager(viewer, query, from, shown.length, rows.length)}
${when(all.length > 0, () => html`<p class="soft">${texts.severityNote}</p>${cautions(viewer)}`)}`;
}

const oldest = (rows: readonly DueRow[]): Instant => instant(Math.min(...rows.map((row) => row.asOf)));

const linkTo = ({ state, find, page: at }: Partial<Query>): string => {
  const query = new URLSearchParams();
  if (state) query.set('state', state);
  if (find) query.set('find', find);
  if (at !== undefined && at > 1) query.set('page', String(at));
  return query.size === 0 ? '/' : `/?${query}`;
};

function tally({ texts, words }: Viewer, rows: readonly DueRow[], { find, state }: Query): Markup {
  const counts = STATES.map((one) => ({ one, count: rows.filter((row) => row.state === one).length }));
  return html`<ul class="tally" aria-label="${texts.due.tally}">${counts
    .filter(({ count }) => count > 0)
    .map(
      ({ one, count }) =>
        html`<li><a href="${linkTo({ state: one, find })}"${one === state ? html` aria-current="true"` : ''}>${words.number(count)} ${words.state[one]}</a></li>`,
    )}</ul>`;
}

const filter = ({ texts, words }: Viewer, { state, find }: Query): Markup => html`
<form class="row" method="get" action="/" role="search">
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
${when(state !== undefined || find !== '', () => html`<p class="field"><a href="/">${texts.due.showAll}</a></p>`)}
</form>`;

function dueTable(viewer: Viewer, rows: readonly NamedRow[]): Markup {
  const { columns, likelyHint } = viewer.texts.due;
  return table(
    [
      { label: columns.unit },
      { label: columns.service },
      { label: columns.state },
      { label: columns.likely, note: likelyHint },
      { label: columns.terrain },
      { label: columns.moving },
      { label: columns.interval },
      { label: columns.who },
    ],
    rows.map((row) => rowOf(viewer, row)),
  );
}

const rowOf = (viewer: Viewer, row: NamedRow): Row => ({
  head: unitCell(viewer, row),
  cells: [
    html`${viewer.words.serviceKind(row.serviceKind)}`,
    stateCell(viewer, row),
    likelyCell(viewer, row),
    terrainCell(viewer, row),
    movingCell(viewer, row),
    intervalCell(viewer, row),
    whoCell(viewer, row),
  ],
});

function pager({ texts }: Viewer, query: Query, from: number, shown: number, all: number): Markup {
  if (all <= ROWS_A_PAGE) return NOTHING;
  const last = from + shown;
  return html`<nav class="pages" aria-label="${texts.due.count(from + 1, last, all)}">
<span>${texts.due.count(from + 1, last, all)}</span>
${when(query.page > 1, () => html`<a href="${linkTo({ ...query, page: query.page - 1 })}">${texts.due.previous}</a>`)}
${when(last < all, () => html`<a href="${linkTo({ ...query, page: query.page + 1 })}">${texts.due.next}</a>`)}
</nav>`;
}
