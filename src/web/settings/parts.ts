import type { Context } from 'hono';
import { html } from 'hono/html';
import type { ServiceKind, UnitKind } from '../../core/tokens.js';
import { getPartsPage, type PartsPage, setParts } from '../../flow/counter/setParts.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { fieldsOf } from '../guard.js';
import { formToken } from '../layout.js';
import { choice, type Markup, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { capitalised } from '../show.js';
import { type After, afterQuery, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { settingFrame } from './frame.js';
import { partLines, partLinesIn } from './partLines.js';

const ROUTE = '/settings/parts/:unitKind/:serviceKind';

/** Where the parts of a job are typed. */
export const pathOfParts = ({
  unitKind,
  serviceKind,
}: {
  readonly unitKind: UnitKind;
  readonly serviceKind: ServiceKind;
}): string => `/settings/parts/${unitKind}/${encodeURIComponent(serviceKind)}`;

const withModel = (
  path: string,
  model: string | null,
  more: Readonly<Record<string, string>> = {},
): string => {
  const query = new URLSearchParams({ ...(model === null ? {} : { model }), ...more }).toString();
  return query === '' ? path : `${path}?${query}`;
};

/** What one job takes: for every unit of its kind, or for a model that takes something else. */
export function partsPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv, typeof ROUTE>, after: After): Promise<Markup> => {
    const model = after.fields.model ?? c.req.query('model') ?? '';
    const { unitKind, serviceKind } = c.req.param();
    const at = await deps.store.read((tx) =>
      getPartsPage(tx, unitKind, serviceKind, model.trim().slice(0, 200) || null),
    );
    return markup(c.get('viewer'), at, after);
  };
  pages.get(ROUTE, async (c) => c.html(await show(c, afterQuery(c))));

  pages.post(ROUTE, async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const { unitKind, serviceKind } = c.req.param();
    const work = async (): Promise<string> => {
      const lines = partLinesIn(fields, viewer);
      const { why } = viewer.texts.settings.parts;
      const at = await deps.store.read((tx) => getPartsPage(tx, unitKind, serviceKind, fields.model || null));
      const { rows: _r, models: _m, known: _k, ...address } = at;
      const isOther = await change(deps, c, (tx, entry) => setParts(tx, address, lines, { ...entry, why }));
      return withModel(pathOfParts(at), at.model, { done: isOther ? 'saved' : 'unchanged' });
    };
    return taken(c, fields, work, (after) => show(c as never, after));
  });
}

function markup(viewer: Viewer, at: PartsPage, after: After): Markup {
  const { texts, words } = viewer;
  const { settings } = texts;
  const { parts: says } = settings;
  const path = pathOfParts(at);
  const rows = at.rows.map(({ id, body: { part, count, measure } }) => ({
    factId: id,
    part,
    count,
    measure,
  }));
  const job = `${words.unitKind[at.unitKind]}, ${words.serviceKind(at.serviceKind)}`;
  return settingFrame(viewer, {
    ...{
      title: capitalised(says.title(job)),
      lead: at.model === null ? says.lead : says.leadModel(at.model),
      after,
    },
    body: html`
${when(rows.length === 0, () => html`<p>${at.model === null ? says.none : says.noneModel}</p>`)}
<form class="kept" method="post" action="${path}">${formToken(viewer)}<input type="hidden" name="model" value="${at.model ?? ''}">
${partLines(viewer, { rows, known: at.known, after })}
<p><button class="primary">${settings.save}</button></p></form>
${when(
  at.models.length > 0,
  () => html`<h2>${says.models}</h2><p class="lead">${says.modelsLead}</p>
<form class="row" method="get" action="${path}">
${choice({
  name: 'model',
  label: says.model,
  value: at.model ?? '',
  choices: [
    { value: '', label: says.everyModel },
    ...at.models.map(({ model, isOwn }) => ({ value: model, label: isOwn ? says.ownParts(model) : model })),
  ],
})}
<button>${says.show}</button></form>`,
)}
<p class="screen"><a href="/settings/jobs">${settings.jobs.title}</a> · <a href="/settings/shelf">${settings.shelf.title}</a></p>`,
  });
}
