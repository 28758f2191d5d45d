import { html } from 'hono/html';
import { getWaysPage, RIDERS_WITH_WAYS, type RiderWays } from '../../flow/take/ways.js';
import type { Contact } from '../../ports/contacts.js';
import { small } from '../cells/dueCells.js';
import { nextStep } from '../cells/nextStep.js';
import type { WebDeps } from '../deps.js';
import { formToken, page } from '../layout.js';
import { choice, type Markup, NOTHING, saidAfter, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';
import { readCable } from './cable.js';

/** By which ways files come, and one of them: a recorder on a cable. */
export function waysPage(pages: Pages, deps: WebDeps): void {
  const lastRead = readCable(pages, deps, (viewer, fault) => waysMarkup(viewer, deps, { fault }));
  pages.get('/ways', async (c) => {
    const viewer = c.get('viewer');
    const read = c.req.query('read') === undefined ? NOTHING : lastRead(viewer);
    return c.html(await waysMarkup(viewer, deps, { fault: null, read }));
  });
}

/** Above the list stands what was just read, or why nothing was. */
async function waysMarkup(
  viewer: Viewer,
  deps: WebDeps,
  { fault, read = NOTHING }: { readonly fault: string | null; readonly read?: Markup },
): Promise<Markup> {
  const { rows, contacts, count } = await deps.store.read((tx) => getWaysPage(tx, viewer.now));
  const { ways, riders, due } = viewer.texts;
  return page(viewer, {
    title: ways.title,
    current: 'ways',
    body: html`
<h1>${ways.title}</h1>
${saidAfter(fault, undefined)}<p class="lead">${ways.lead}</p>
${read}
${rows.length === 0 ? nextStep(riders.nothing, '/customers/new', viewer.texts.customer.title) : wayTable(viewer, rows)}
${when(count > RIDERS_WITH_WAYS, () => html`<p>${due.count(1, RIDERS_WITH_WAYS, count)}</p>`)}
${when(deps.rider !== undefined, () => cableForm(viewer, contacts))}`,
  });
}

function wayTable(viewer: Viewer, rows: readonly RiderWays[]): Markup {
  const { words, today, texts } = viewer;
  const { columns, nothing, by, sameDay, late, asking, setAside, mailsLeft } = texts.ways;
  return table(
    [columns.rider, columns.by, columns.last, columns.late, columns.stuck].map((label) => ({ label })),
    rows.map(({ rider, name, ways, daysLate, ...stuck }) => ({
      head: html`<a href="/riders/${encodeURIComponent(rider)}">${name}</a>`,
      cells: [
        ways.length === 0
          ? html`${nothing}`
          : html`${ways.map(({ way, rides }) => html`<div>${by(words.way[way ?? 'before'], words.counted(rides, 'ride'))}</div>`)}`,
        html`${ways[0] === undefined ? '' : words.day(ways[0].last, today)}`,
        html`${daysLate === null ? '' : daysLate === 0 ? sameDay : late(words.counted(daysLate, 'day'))}`,
        html`${stuck.asking === 0 ? '' : asking(words.counted(stuck.asking, 'ride'))}${small(stuck.setAside === 0 ? null : setAside(words.counted(stuck.setAside, 'file')))}${small(stuck.mailsLeft === 0 ? null : mailsLeft(words.number(stuck.mailsLeft)))}`,
      ],
    })),
  );
}

function cableForm(viewer: Viewer, contacts: readonly Contact[]): Markup {
  const { cable } = viewer.texts.ways;
  return html`<h2>${cable.title}</h2>
<p class="lead">${cable.lead}</p>
<form method="post" action="/ways/files" enctype="multipart/form-data" class="screen">${formToken(viewer)}
<div class="field"><label for="folder">${cable.folder}</label><input id="folder" name="files" type="file" webkitdirectory multiple></div>
<div class="field"><label for="files">${cable.files}</label><input id="files" name="files" type="file" multiple></div>
${choice({
  name: 'rider',
  label: cable.rider,
  hint: cable.how,
  value: '',
  choices: [
    { value: '', label: cable.anyRider },
    ...contacts.map(({ riderId, name }) => ({ value: riderId, label: name })),
  ],
})}
<button class="primary">${cable.submit}</button></form>`;
}
