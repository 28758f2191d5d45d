import type { Context } from 'hono';
import { html } from 'hono/html';
import type { Fact } from '../../core/ledger/facts.js';
import { setUpFields } from '../../core/plan/setUp.js';
import { SET_UP_STAGES } from '../../core/tokens.js';
import { getIdOf } from '../../flow/names.js';
import { addSetUp, getSetUpPage, type SetUpPage, setBackTo } from '../../flow/plan/setUps.js';
import { getUnit } from '../../flow/unitLedger.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { setUpRows } from '../cells/setUpCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, NOTHING, saidAfter, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';

/** How a unit is set: read as it comes, set back as it leaves, kept by rider or track. */
export function setUpPages(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, tag: string, after: After): Promise<Markup> => {
    const view = await deps.store.read((tx) => getSetUpPage(tx, tag));
    return markup(c.get('viewer'), view, after);
  };
  pages.get('/units/:tag/set-up', async (c) => c.html(await show(c, c.req.param('tag'), afterQuery(c))));
  pages.post('/units/:tag/set-up', async (c) => {
    const tag = c.req.param('tag');
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const form = new EntryForm(fields, c.get('viewer'));
      await change(deps, c, async (tx, entry) => {
        const unitId = await getIdOf(tx, 'unit', tag);
        if (fields.back) return setBackTo(tx, unitId, fields.back, entry);
        const stage = form.choice('stage', SET_UP_STAGES);
        const read = setUpFields(await getUnit(tx, unitId)).flatMap((name) => {
          const value = form.line(name);
          return value === null ? [] : [[name, value] as const];
        });
        const name = form.line('name');
        if (read.length === 0) throw new NotTaken(form.viewer.texts.setUp.need);
        if (stage === 'kept' && name === null) throw new NotTaken(form.viewer.texts.setUp.needName, 'name');
        return addSetUp(tx, { unitId, stage, name, values: Object.fromEntries(read) }, entry);
      });
      return `${pathOfUnit(tag)}/set-up?done=saved`;
    };
    return taken(c, fields, work, (after) => show(c, tag, after));
  });
}

function markup(viewer: Viewer, { unit, came, left, kept }: SetUpPage, after: After): Markup {
  const { setUp: says } = viewer.texts;
  const path = pathOfUnit(unit.tag);
  return page(viewer, {
    title: says.title(unit.tag),
    current: 'units',
    body: html`
<h1>${says.title(unit.tag)}</h1>
${saidAfter(after.fault, after.done === null ? undefined : says.saved)}
<p class="screen"><a href="${path}">${viewer.texts.paper.back(unit.tag)}</a></p>
${setMarkup(viewer, path, says.came, came, says.asItCame)}
${setMarkup(viewer, path, says.left, left, null)}
${kept.map((one) => setMarkup(viewer, path, says.named(one.body.name ?? ''), one, says.setTo))}
<h2>${says.readTitle}</h2>
<p class="lead">${says.lead}</p>
<form method="post" action="${path}/set-up">${formToken(viewer)}
${setUpFields(unit).map((name) => field({ name, label: says.fields[name], value: after.fields[name] ?? '', hint: says.hints[name], isShort: true }))}
${field({ name: 'name', label: says.name, value: after.fields.name ?? '', hint: says.nameHint })}
<p class="row">${SET_UP_STAGES.map((stage) => html`<button name="stage" value="${stage}">${says.save[stage]}</button>`)}</p>
</form>`,
  });
}

/** One set, with the press that says that the unit leaves so. */
function setMarkup(
  viewer: Viewer,
  path: string,
  title: string,
  fact: Fact<'setUp'> | null,
  press: string | null,
): Markup {
  if (fact === null) return NOTHING;
  const day = viewer.words.day(fact.body.on, viewer.today);
  return html`<section class="entry"><h2>${title}, ${day}</h2>${setUpRows(viewer, fact.body)}
${when(press !== null, () => html`<form method="post" action="${path}/set-up">${formToken(viewer)}<input type="hidden" name="back" value="${fact.id}"><p><button>${press}</button></p></form>`)}</section>`;
}
