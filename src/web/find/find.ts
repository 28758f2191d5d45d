import { html } from 'hono/html';
import { z } from 'zod';
import { type FoundThings, find } from '../../flow/counter/find.js';
import { small, stateCell, unitCell, whoCell } from '../cells/dueCells.js';
import { nextStep } from '../cells/nextStep.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

const querySchema = z.object({ q: z.string().trim().max(200).catch('').default('') });
const PATHS = { rider: '/riders', unit: '/units', bike: '/bikes' } as const;

/** What the field on every page leads to: the one thing that fits, or a list of them. */
export function findPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/find', async (c) => {
    const viewer = c.get('viewer');
    const { q } = querySchema.parse(c.req.query());
    const found = await store.read((tx) => find(tx, q, viewer.fleet, viewer.now));
    if (found.only)
      return c.redirect(`${PATHS[found.only.kind]}/${encodeURIComponent(found.only.handle)}`, 303);
    return c.html(markup(viewer, q, found));
  });
}

function markup(viewer: Viewer, sought: string, found: FoundThings): Markup {
  const { find: says, customer } = viewer.texts;
  const { riders, units, bikes, gone } = found;
  const isNone = riders.length + units.length + bikes.length + gone.length === 0;
  const none = sought === '' ? says.lead : says.none;
  const mayAdd = viewer.account.role !== 'mechanic';
  const toNew = `/customers/new${sought === '' ? '' : `?${new URLSearchParams({ name: sought })}`}`;
  return page(viewer, {
    title: says.title,
    sought,
    body: html`
<h1>${sought === '' ? says.title : says.titleOf(sought)}</h1>
${when(isNone, () => (mayAdd ? nextStep(none, toNew, customer.title) : html`<p>${none}</p>`))}
${when(riders.length > 0, () => html`<h2>${says.riders}</h2>${riderTable(viewer, found)}`)}
${when(units.length > 0, () => html`<h2>${says.units}</h2>${unitTable(viewer, found)}`)}
${when(bikes.length > 0, () => html`<h2>${says.bikes}</h2>${bikeTable(viewer, found)}`)}
${when(gone.length > 0, () => html`<h2>${says.gone}</h2>${goneTable(viewer, found)}`)}
${when(found.isMore, () => html`<p>${says.more}</p>`)}`,
  });
}

const riderTable = (viewer: Viewer, { riders }: FoundThings): Markup => {
  const { riders: says, first } = viewer.texts;
  return table(
    [says.columns.rider, first.phone, says.columns.bikes].map((label) => ({ label })),
    riders.map(({ contact, handle, bikes }) => ({
      head: html`<a href="/riders/${encodeURIComponent(handle)}">${contact.name}</a>${small(contact.email)}`,
      cells: [html`${contact.phone ?? ''}`, html`${bikes.join(', ')}`],
    })),
  );
};

const unitTable = (viewer: Viewer, { units }: FoundThings): Markup => {
  const { columns } = viewer.texts.units;
  return table(
    [columns.unit, columns.who, columns.state].map((label) => ({ label })),
    units.map((row) => ({
      head: unitCell(viewer, row),
      cells: [whoCell(viewer, row), stateCell(viewer, row)],
    })),
  );
};

const goneTable = (viewer: Viewer, { gone: units }: FoundThings): Markup => {
  const { words, texts, today } = viewer;
  const { columns } = texts.units;
  return table(
    [columns.unit, columns.state].map((label) => ({ label })),
    units.map(({ tag: unit, unitKind, model, gone }) => ({
      head: unitCell(viewer, { unit, unitKind, model }),
      cells: [html`${texts.unit.isGone(words.gone[gone.how], words.day(gone.on, today))}`],
    })),
  );
};

const bikeTable = (viewer: Viewer, { bikes }: FoundThings): Markup => {
  const { riders: says, due } = viewer.texts;
  return table(
    [says.bike, says.columns.rider].map((label) => ({ label })),
    bikes.map(({ bike, rider }) => ({
      head: html`<a href="/bikes/${encodeURIComponent(bike.handle)}">${bike.name}</a>`,
      cells: [html`${rider ?? due.noRider}`],
    })),
  );
};
