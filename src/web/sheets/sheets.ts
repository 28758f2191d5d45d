import type { Context } from 'hono';
import { html } from 'hono/html';
import { SECOND_LOOKS, SPRINGS, UNIT_KINDS } from '../../core/tokens.js';
import {
  type BareModel,
  checkSheet,
  getSheetPage,
  getSheetsPage,
  type ListedSheet,
  type SheetPage,
  type SheetsPage,
  setSheet,
} from '../../flow/counter/sheets.js';
import { setWorkshop } from '../../flow/facts/setWorkshop.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, field, type Markup, saidAfter, table, tick, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { namedSheet, pathOfSheetPage, readSheet, sheetMarkup } from './sheet.js';

/** What the makers' manuals say by model and year: typed by one, checked by another, inherited by each unit. */
export function sheetsPages(pages: Pages, deps: WebDeps): void {
  const list = async (c: Context<WebEnv>, after: After): Promise<Markup> =>
    listMarkup(c.get('viewer'), await deps.store.read(getSheetsPage), after);
  pages.get('/sheets', async (c) => c.html(await list(c, afterQuery(c))));

  const asked = (c: Context<WebEnv>): Promise<SheetPage> =>
    deps.store.read((tx) => getSheetPage(tx, c.req.query()));
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> =>
    sheetMarkup(c.get('viewer'), await asked(c), after);
  // Where nothing is named, it is chosen on the list.
  const isNamed = (c: Context<WebEnv>): boolean =>
    Boolean(c.req.query('unit') || c.req.query('model')?.trim());
  pages.get('/sheets/edit', async (c) =>
    isNamed(c) ? c.html(await show(c, afterQuery(c))) : c.redirect('/sheets', 303),
  );
  pages.post('/sheets/edit', async (c) => {
    if (!isNamed(c)) return c.redirect('/sheets', 303);
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const { address, tag } = await asked(c);
      const typed = readSheet(new EntryForm(fields, c.get('viewer')), address);
      const isOther = await change(deps, c, (tx, entry) =>
        setSheet(tx, address, typed, fields.fact || null, entry),
      );
      return `${pathOfSheetPage(address, tag)}&done=${isOther ? 'saved' : 'unchanged'}`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });

  pages.post('/sheets/check', async (c) => {
    const fields = await fieldsOf(c);
    const { fact } = fields;
    const work = async (): Promise<string> => {
      if (!fact) return '/sheets';
      await change(deps, c, (tx, entry) => checkSheet(tx, fact, entry));
      return '/sheets?done=checked';
    };
    return taken(c, fields, work, (after) => list(c, after));
  });

  pages.post('/sheets/look', async (c) => {
    const fields = await fieldsOf(c);
    const { fact } = fields;
    const work = async (): Promise<string> => {
      if (!fact) return '/sheets';
      const secondLook = SECOND_LOOKS.filter((one) => fields[one] === 'yes');
      const id = await change(deps, c, (tx, entry) => setWorkshop(tx, fact, { secondLook }, entry));
      return `/sheets?done=${id === null ? 'unchanged' : 'look'}`;
    };
    return taken(c, fields, work, (after) => list(c, after));
  });
}

function listMarkup(viewer: Viewer, view: SheetsPage, after: After): Markup {
  const { sheets: says } = viewer.texts;
  const { columns } = says;
  return page(viewer, {
    title: says.title,
    current: 'intervals',
    body: html`
<h1>${says.title}</h1>
<p class="lead">${says.lead}</p>
${saidAfter(after.fault, says.done[after.done ?? ''])}
${
  view.sheets.length === 0
    ? html`<p>${says.nothing}</p>`
    : table(
        [columns.for, columns.edition, columns.typed, columns.checked].map((label) => ({ label })),
        view.sheets.map((one) => sheetRow(viewer, one)),
      )
}
${when(view.bare.length > 0, () => bareModels(viewer, view.bare))}
<h2>${says.newTitle}</h2>
<form method="get" action="/sheets/edit" class="row">
${choice({ name: 'kind', label: says.kind, value: 'fork', choices: UNIT_KINDS.map((value) => ({ value, label: viewer.words.unitKind[value] })) })}
${choice({ name: 'spring', label: says.spring, value: 'air', choices: SPRINGS.map((value) => ({ value, label: viewer.texts.customer.sprung[value] })) })}
${field({ name: 'model', label: viewer.texts.unit.model, isRequired: true })}
${field({ name: 'year', label: says.year, inputmode: 'numeric', isShort: true })}
<div class="field"><button>${says.open}</button></div></form>
${when(viewer.account.role === 'owner', () => secondLook(viewer, view))}`,
  });
}

function sheetRow(viewer: Viewer, { fact, tag }: ListedSheet) {
  const { sheets: says } = viewer.texts;
  const { body } = fact;
  const mayCheck = body.checkedBy === null && body.typedBy !== viewer.account.name;
  const check = html`<form method="post" action="/sheets/check">${formToken(viewer)}<input type="hidden" name="fact" value="${fact.id}"><button aria-label="${says.checkOf(namedSheet(viewer, body, tag))}">${says.check}</button></form>`;
  return {
    head: html`<a href="${pathOfSheetPage(body, tag)}">${namedSheet(viewer, body, tag)}</a>`,
    cells: [
      html`${body.edition ?? says.noEdition}`,
      html`${body.typedBy}`,
      body.checkedBy !== null ? html`${body.checkedBy}` : mayCheck ? check : html`${says.unchecked}`,
    ],
  };
}

const bareModels = (viewer: Viewer, bare: readonly BareModel[]): Markup => {
  const { sheets: says } = viewer.texts;
  return html`<h2>${says.bareTitle}</h2><ul>${bare.slice(0, MOST_BARE).map((one) => {
    const { unitKind, spring, model, modelYear } = one;
    const address = {
      unitKind,
      ...(spring === undefined ? {} : { spring }),
      scope: { model, modelYear, unitId: null },
    };
    return html`<li><a href="${pathOfSheetPage(address, null)}">${namedSheet(viewer, address, null)}</a> (${viewer.words.counted(one.units, 'unit')})</li>`;
  })}</ul>`;
};
const MOST_BARE = 30;

/** What a junior's work is seen by a second pair of eyes for; for the owner to say. */
const secondLook = (viewer: Viewer, { workshop }: SheetsPage): Markup => {
  const { sheets: says } = viewer.texts;
  const asked = workshop.body.secondLook ?? [];
  return html`<h2>${says.secondTitle}</h2><p class="lead">${says.secondLead}</p>
<form method="post" action="/sheets/look">${formToken(viewer)}<input type="hidden" name="fact" value="${workshop.id}">
${SECOND_LOOKS.map((one) => tick(one, says.second[one], asked.includes(one)))}
<p><button>${says.saveSecond}</button></p></form>`;
};
