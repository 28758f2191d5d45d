import { html } from 'hono/html';
import { KIT_WORDS } from '../../core/tokens.js';
import { getKits, type HomeRow, type KitsPage, sayKit } from '../../flow/home/kits.js';
import { getIdOf } from '../../flow/names.js';
import { pathOfUnit, small } from '../cells/dueCells.js';
import { homeWord } from '../cells/homeCells.js';
import { nextStep } from '../cells/nextStep.js';
import { useText } from '../cells/planCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { page } from '../layout.js';
import { columnsOf, type Markup, saidAfter, table } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer } from '../viewer.js';

/** Kits that riders pick up to do a job at home, and the jobs that are to be done with them. */
export function kitsPage(pages: Pages, deps: WebDeps): void {
  const show = async (viewer: Viewer, after: After): Promise<Markup> =>
    markup(viewer, await deps.store.read((tx) => getKits(tx, viewer.now)), after);
  pages.get('/kits', async (c) => c.html(await show(c.get('viewer'), afterQuery(c))));
  pages.post('/kits/:tag', async (c) => {
    const fields = await fieldsOf(c);
    const viewer = c.get('viewer');
    const work = async (): Promise<string> => {
      const word = new EntryForm(fields, viewer).choice('say', KIT_WORDS);
      await change(deps, c, async (tx, entry) =>
        sayKit(tx, await getIdOf(tx, 'unit', c.req.param('tag')), fields.home ?? '', word, entry),
      );
      return word === 'called' ? '/reminders' : '/kits';
    };
    return taken(c, fields, work, (after) => show(viewer, after));
  });
}

function markup(viewer: Viewer, { toPickUp, pickedUp }: KitsPage, after: After): Markup {
  const { kits: says } = viewer.texts;
  return page(viewer, {
    title: says.title,
    current: 'kits',
    body: html`
<h1>${says.title}</h1>
<p class="lead">${says.lead}</p>
${saidAfter(after.fault, undefined)}
<h2>${says.toPickUp}</h2>
${toPickUp.length === 0 ? html`<p>${says.none}</p>` : html`<p>${says.shelf}</p>${rowsTable(viewer, toPickUp)}`}
<h2>${says.pickedUp}</h2>
${pickedUp.length === 0 ? html`<p>${says.nobody}</p>` : rowsTable(viewer, pickedUp)}
${
  toPickUp.length + pickedUp.length === 0
    ? nextStep(says.how, '/settings/home', says.settings.title)
    : html`<p class="screen"><a href="/settings/home">${says.settings.title}</a> · <a href="/settings/shelf">${viewer.texts.settings.shelf.title}</a></p>`
}`,
  });
}

function rowsTable(viewer: Viewer, rows: readonly HomeRow[]): Markup {
  const { kits: says, leads } = viewer.texts;
  const { words, today } = viewer;
  const { columns } = says;
  return table(
    columnsOf([columns.unit, columns.kit, columns.who, columns.since, columns.say], [], [columns.say]),
    rows.map((row) => ({
      head: html`<a href="${pathOfUnit(row.tag)}">${row.tag}</a>${small(words.serviceKind(row.job.serviceKind))}`,
      cells: [
        html`<ul>${row.parts.map((use) => html`<li>${useText(use, viewer)}</li>`)}</ul>`,
        html`${row.rider}${small(row.phone ?? leads.noPhone)}`,
        html`${words.day(row.job.chosenOn, today)}`,
        html`<div class="answers">${row.job.step === 'chosen' ? homeWord(viewer, row, 'picked-up') : ''}${homeWord(viewer, row, 'not-wanted')}</div>`,
      ],
    })),
  );
}
