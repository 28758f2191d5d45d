import { setImmediate } from 'node:timers/promises';
import type { Context } from 'hono';
import { html } from 'hono/html';
import { canonical } from '../../core/canonical.js';
import type { IntervalFact } from '../../core/ledger/facts.js';
import { listUnitsUnder, type PreviewedUnit, previewIntervals } from '../../flow/due/previewInterval.js';
import { setInterval } from '../../flow/facts/enterFacts.js';
import {
  getIntervalPage,
  type IntervalPage,
  type Limits,
  type RuleAddress,
} from '../../flow/facts/intervalsPage.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { fieldsOf } from '../guard.js';
import { page } from '../layout.js';
import { describedBy, field, type Markup, NOTHING, said, table, when, wrongNote } from '../markup.js';
import type { Pages } from '../routes.js';
import { capitalised, likelyText, limitsText } from '../show.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { type IntervalForm, intervalFieldsOf, readIntervalForm } from './intervalForm.js';
import { defaultLimits, pathOfRule, scopeText } from './intervalScope.js';

const UNITS_A_STEP = 5;

const ruleOf = ({ unitKind, serviceKind, scope }: RuleAddress, limits: Limits): IntervalFact => ({
  unitKind,
  serviceKind,
  scope,
  ...limits,
});

export function intervalPage(pages: Pages, deps: WebDeps): void {
  const { store } = deps;
  const asked = (c: Context<WebEnv, '/intervals/:unitKind/:serviceKind'>): Promise<IntervalPage> =>
    store.read((tx) =>
      getIntervalPage(tx, c.req.param('unitKind'), c.req.param('serviceKind'), c.req.query()),
    );

  pages.get('/intervals/:unitKind/:serviceKind', async (c) => {
    const viewer = c.get('viewer');
    const at = await asked(c);
    const isAsked = c.req.query('terrainHours') !== undefined;
    if (!isAsked) return c.html(show(viewer, at, formOf(at.fact?.body ?? defaultLimits(at.terms))));
    const form = readIntervalForm(c.req.query(), viewer.texts);
    if (form.limits === null) return c.html(show(viewer, at, form), 422);
    const units = await previewAll(deps, ruleOf(at, form.limits));
    return c.html(show(viewer, at, form, preview(viewer, at, form.limits, units)));
  });

  pages.post('/intervals/:unitKind/:serviceKind', async (c) => {
    const viewer = c.get('viewer');
    const at = await asked(c);
    const fields = await fieldsOf(c);
    const form = readIntervalForm(fields, viewer.texts);
    if (form.limits === null) return c.html(show(viewer, at, form), 422);
    const rule = ruleOf(at, form.limits);
    // What is typed after the preview is saved once its own was seen.
    if ((fields.shown ?? shownAs(form.limits)) !== shownAs(form.limits)) {
      const below = preview(viewer, at, form.limits, await previewAll(deps, rule));
      return c.html(show(viewer, at, form, html`${said(viewer.texts.interval.other, 'alert')}${below}`), 409);
    }
    const id = await change(deps, c, (tx, { by, at: now }) => setInterval(tx, rule, by, now));
    return c.redirect(id === null ? '/intervals?unchanged' : '/intervals?saved', 303);
  });
}

/** The limits of a preview, to be held against those that stand on the screen when they are saved. */
const shownAs = ({ terrainHours, months, movingHoursCeiling }: Limits): string =>
  canonical([terrainHours, months, movingHoursCeiling]);

const formOf = (limits: Limits): IntervalForm => ({
  fields: intervalFieldsOf(limits),
  limits: null,
  wrong: {},
});

/** A few units at a time, so that other people's pages are not held up by many forecasts. */
async function previewAll({ store, clock }: WebDeps, rule: IntervalFact): Promise<PreviewedUnit[]> {
  const now = clock.now();
  const unitIds = await store.read((tx) => listUnitsUnder(tx, rule));
  const previewed: PreviewedUnit[] = [];
  for (let i = 0; i < unitIds.length; i += UNITS_A_STEP) {
    const some = unitIds.slice(i, i + UNITS_A_STEP);
    previewed.push(...(await store.read((tx) => previewIntervals(tx, some, rule, now))));
    await setImmediate();
  }
  return previewed;
}

function show(viewer: Viewer, at: IntervalPage, form: IntervalForm, below: Markup = NOTHING): Markup {
  const { texts, words } = viewer;
  const title = texts.interval.title(capitalised(words.serviceKind(at.serviceKind)), scopeText(at, viewer));
  const hasFault = Object.keys(form.wrong).length > 0;
  return page(viewer, {
    title,
    current: 'intervals',
    body: html`
<h1>${title}</h1>
<p class="lead">${standsNow(viewer, at)} ${texts.intervals.lead}</p>
${when(hasFault, () => said(texts.interval.fix, 'alert'))}
<form id="asked" method="get" action="${pathOfRule(at).split('?')[0]}">
${scopeFields(at)}
${inputs(viewer, form)}
<p><button>${texts.interval.preview}</button></p>
</form>
${below}
<p class="screen"><a href="/intervals">${texts.interval.back}</a> · <a href="/settings/jobs">${texts.settings.jobs.title}</a></p>`,
  });
}

/** It is for all units of its kind. */
const isWidest = ({ scope }: RuleAddress | Pick<IntervalPage, 'scope'>): boolean =>
  scope.unitId === null && scope.model === null && scope.fleetId === null;

function standsNow(viewer: Viewer, { fact, ...at }: IntervalPage): string {
  const { interval: texts } = viewer.texts;
  if (fact) return texts.now(limitsText(fact.body, viewer));
  return isWidest(at) ? texts.nowDefault(limitsText(defaultLimits(at.terms), viewer)) : texts.nowElse;
}

/** A form that is sent by GET leaves its address's query out, so the scope goes with it. */
const scopeFields = ({ unitTag, fleetHandle, scope }: RuleAddress): Markup =>
  html`${(
    [
      ['unit', unitTag],
      ['model', scope.model],
      ['fleet', fleetHandle],
    ] as const
  ).map(([name, value]) =>
    when(value !== null, () => html`<input type="hidden" name="${name}" value="${value}">`),
  )}`;

function inputs({ texts: { interval } }: Viewer, { fields, wrong }: IntervalForm): Markup {
  const radio = (value: string, label: string): Markup => html`
<label class="tick"><input type="radio" name="ceiling" value="${value}"${value === fields.ceiling ? html` checked` : ''}>${label}</label>`;
  const number = { name: 'ceilingHours', wrong: wrong.ceilingHours };
  return html`
${field({ name: 'terrainHours', label: interval.terrain, hint: interval.terrainHint, value: fields.terrainHours, wrong: wrong.terrainHours, inputmode: 'decimal', isShort: true })}
${field({ name: 'months', label: interval.months, hint: interval.monthsHint, value: fields.months, wrong: wrong.months, inputmode: 'numeric', isShort: true })}
<fieldset class="field"><legend>${interval.ceiling}</legend>
<p class="hint">${interval.ceilingHint}</p>
${radio('usual', interval.usual)}${radio('none', interval.noCeiling)}${radio('number', interval.number)}
<input class="short" name="ceilingHours" id="ceilingHours" aria-label="${interval.ceiling}" inputmode="decimal" autocomplete="off" value="${fields.ceilingHours}"${describedBy(number)}>
${wrongNote(number)}
</fieldset>`;
}

/** What would change, and the button that saves what stands in the fields above. */
function preview(viewer: Viewer, at: RuleAddress, limits: Limits, units: readonly PreviewedUnit[]): Markup {
  const { interval } = viewer.texts;
  const changed = units.filter((unit) => unit.before?.state !== unit.after?.state);
  const count = interval.units(units.length);
  return html`
<section aria-labelledby="preview"><h2 id="preview">${interval.previewTitle}</h2>
<p>${interval.previewRule(limitsText(limits, viewer))} ${
    changed.length === 0 ? interval.nothing(count) : interval.some(interval.units(changed.length), count)
  }</p>
${when(limits.months === null && limits.terrainHours !== null, () => html`<p><strong>${interval.wholeRule}</strong></p>`)}
${when(changed.length > 0, () => html`${changedTable(viewer, changed)}<p class="soft">${interval.told}</p>`)}
<input form="asked" type="hidden" name="shown" value="${shownAs(limits)}">
<p><button class="primary" form="asked" formmethod="post" formaction="${pathOfRule(at)}" name="token" value="${viewer.formToken}">${interval.save}</button></p>
</section>`;
}

function changedTable(viewer: Viewer, changed: readonly PreviewedUnit[]): Markup {
  const { columns } = viewer.texts.interval;
  const stateOf = (stands: PreviewedUnit['before']): Markup =>
    html`${stands === null ? viewer.texts.intervals.none : viewer.words.state[stands.state]}`;
  const likelyOf = (stands: PreviewedUnit['before']): Markup =>
    html`${stands === null ? '' : likelyText(stands.likely, viewer).middle}`;
  return table(
    [columns.unit, columns.before, columns.after, columns.likely, columns.likelyThen].map((label) => ({
      label,
    })),
    changed.map(({ tag, model, before, after }) => ({
      head: html`<b>${tag}</b>${when(model !== null, () => html`<small>${model}</small>`)}`,
      cells: [stateOf(before), stateOf(after), likelyOf(before), likelyOf(after)],
    })),
  );
}
