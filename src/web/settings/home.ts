import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import type { Fact, HomeJob } from '../../core/ledger/facts.js';
import { isLine } from '../../core/lines.js';
import { setWorkshop } from '../../flow/facts/setWorkshop.js';
import { getHomeJobsPage, type HomeModel, listHomeModels } from '../../flow/home/homeJobs.js';
import { findWorkshop } from '../../flow/settings.js';
import { nextStep } from '../cells/nextStep.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { describedBy, type Markup, tick, wrongNote } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, type Fields, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { seenFact, settingFrame, wrongAt } from './frame.js';

const PATH = '/settings/home';

/** Lines as typed. */
const linesSchema = z
  .string()
  .transform((text) => text.replace(/\r\n?/g, '\n').trim())
  .pipe(z.string().max(2000))
  .refine((text) => text.split('\n').every(isLine));

const keyOf = ({ unitKind, model }: Pick<HomeModel, 'unitKind' | 'model'>): string => `${unitKind} ${model}`;

/** Which jobs riders may do at home, by model, and when they stop and bring it. */
export function homeJobsPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After): Promise<Markup> => {
    const { fact, models } = await deps.store.read(getHomeJobsPage);
    return markup(c.get('viewer'), fact, models, after);
  };
  pages.get(PATH, async (c) => c.html(await show(c, afterQuery(c))));
  pages.post(PATH, async (c) => {
    const fields = await fieldsOf(c);
    const work = async (): Promise<string> => {
      const id = await change(deps, c, async (tx, entry) => {
        const models = await listHomeModels(tx);
        const homeJobs = models.flatMap((one) => readJob(fields, one, c.get('viewer')));
        return setWorkshop(tx, fields.fact ?? (await findWorkshop(tx))!.id, { homeJobs }, entry);
      });
      return `${PATH}?done=${id === null ? 'unchanged' : 'saved'}`;
    };
    return taken(c, fields, work, (after) => show(c, after));
  });
}

/** A model that came since the page was opened stays as it was. Errors: NotTaken. */
function readJob(fields: Fields, one: HomeModel, { texts }: Viewer): HomeJob[] {
  const { unitKind, serviceKind, model } = one;
  const key = keyOf(one);
  const typed = fields[`stop ${key}`];
  if (typed === undefined)
    return one.isAllowed ? [{ unitKind, serviceKind, model, stopHere: one.stopHere }] : [];
  const stopHere = linesSchema.safeParse(typed);
  if (!stopHere.success) throw new NotTaken(texts.kits.settings.needStop, `stop ${key}`);
  return fields[`may ${key}`] === 'yes' ? [{ unitKind, serviceKind, model, stopHere: stopHere.data }] : [];
}

function markup(viewer: Viewer, fact: Fact<'workshop'>, models: readonly HomeModel[], after: After): Markup {
  const { texts } = viewer;
  const { settings: says } = texts.kits;
  const body =
    models.length === 0
      ? nextStep(says.none, '/units', texts.leads.toUnits)
      : html`<form method="post" action="${PATH}">${seenFact(viewer, fact, after)}
${models.map((one) => modelFields(viewer, one, after))}
<p><button class="primary">${texts.settings.save}</button></p></form>`;
  return settingFrame(viewer, { title: says.title, lead: says.lead, after, body });
}

function modelFields({ texts, words }: Viewer, one: HomeModel, after: After): Markup {
  const { settings: says } = texts.kits;
  const key = keyOf(one);
  const isTicked = after.fields.fact === undefined ? one.isAllowed : after.fields[`may ${key}`] === 'yes';
  const name = `stop ${key}`;
  const id = name.replaceAll(' ', '-');
  const of = { name: id, hint: says.stopHereHint, ...wrongAt(after, name) };
  return html`<section class="entry"><h2>${one.model}</h2>
<p class="soft">${words.unitKind[one.unitKind]}, ${says.units(one.units)}. ${says.figures(one.figures)} <a href="/sheets">${texts.sheets.title}</a> · <a href="/settings/parts/${one.unitKind}/${encodeURIComponent(one.serviceKind)}?model=${encodeURIComponent(one.model)}">${texts.settings.jobs.parts}</a></p>
${tick(`may ${key}`, says.allow(words.serviceKind(one.serviceKind)), isTicked)}
<div class="field"><label for="${id}">${says.stopHere}</label><p class="hint" id="${id}-hint">${says.stopHereHint}</p>
<textarea id="${id}" name="${name}" rows="3"${describedBy(of)}>${after.fields[name] ?? one.stopHere}</textarea>${wrongNote(of)}</div></section>`;
}
