import { setImmediate } from 'node:timers/promises';
import { html } from 'hono/html';
import { z } from 'zod';
import { canonical } from '../../core/canonical.js';
import type { Weights } from '../../core/ledger/ledger.js';
import { type Clamp, LANDING_WEIGHT } from '../../core/ledger/weight.js';
import { getWeightsTaught } from '../../flow/due/groundSeen.js';
import { listRidersTold } from '../../flow/due/ridersTold.js';
import { getWeightBounds, MOST_LANDING } from '../../flow/facts/checkFact.js';
import {
  type ChangedState,
  findFormerWeights,
  listUnitIds,
  previewWeights,
  setWeights,
} from '../../flow/facts/setWeights.js';
import { getGroundExamples } from '../../flow/rides/exampleRides.js';
import { getWeights } from '../../flow/settings.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, NOTHING, said, saidAfter, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { weightsText } from '../settings/settings.js';
import { twoDecimals } from '../show.js';
import type { Viewer } from '../viewer.js';
import { examplesMarkup } from './groundExamples.js';
import { ownWeightsMarkup } from './ownWeights.js';

const NAMES = ['smooth', 'typical', 'rough'] as const;
type Name = (typeof NAMES)[number] | 'landing';

interface WeightsForm {
  readonly fields: Readonly<Record<Name, string>>;
  /** Null where something is wrong. */
  readonly weights: Weights | null;
  readonly wrong: Readonly<Partial<Record<Name, string>>>;
}

interface Preview {
  readonly units: number;
  readonly changes: readonly ChangedState[];
  readonly riders: number;
}

/** The three weights; what would follow is shown before it is saved. */
export function weightsPage(pages: Pages, deps: WebDeps): void {
  const { store } = deps;

  pages.get('/settings/weights', async (c) => {
    const viewer = c.get('viewer');
    const now = await store.read(getWeights);
    if (c.req.query('smooth') === undefined) {
      const former = undoMarkup(viewer, await store.read(findFormerWeights));
      const taught = await store.read((tx) => getWeightsTaught(tx, viewer.now));
      const below = html`${former}${await examplesWith(deps, viewer)}${ownWeightsMarkup(viewer, now, taught)}`;
      return c.html(show(viewer, now, formOf(now), c.req.query('done') ?? null, below));
    }
    const form = readForm(c.req.query(), viewer, await store.read(getWeightBounds));
    if (form.weights === null) return c.html(show(viewer, now, form, null), 422);
    const preview = previewMarkup(viewer, form.weights, await previewAll(deps, form.weights));
    const below = html`${preview}${await examplesWith(deps, viewer, form.weights)}`;
    return c.html(show(viewer, now, form, null, below));
  });

  pages.post('/settings/weights', async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const form = readForm(fields, viewer, await store.read(getWeightBounds));
    const { weights } = form;
    const now = await store.read(getWeights);
    if (weights === null) return c.html(show(viewer, now, form, null), 422);
    // What is typed after the preview is saved once its own was seen.
    if ((fields.shown ?? shownAs(weights)) !== shownAs(weights)) {
      const below = previewMarkup(viewer, weights, await previewAll(deps, weights));
      const asks = html`${said(viewer.texts.interval.other, 'alert')}${below}`;
      return c.html(show(viewer, now, form, null, asks), 409);
    }
    const id = await change(deps, c, (tx, entry) => setWeights(tx, weights, entry));
    return c.redirect(`/settings/weights?done=${id === null ? 'unchanged' : 'saved'}`, 303);
  });
}

const examplesWith = async ({ store }: WebDeps, viewer: Viewer, other?: Weights): Promise<Markup> =>
  examplesMarkup(viewer, await store.read((tx) => getGroundExamples(tx, other)));

/** The weights of a preview, to be held against those that stand on the screen when they are saved. */
const shownAs = ({ smooth, typical, rough, landing = LANDING_WEIGHT }: Weights): string =>
  canonical([smooth, typical, rough, landing]);

const formOf = (weights: Weights): WeightsForm => ({
  fields: {
    smooth: String(weights.smooth),
    typical: String(weights.typical),
    rough: String(weights.rough),
    landing: String(weights.landing ?? LANDING_WEIGHT),
  },
  weights: null,
  wrong: {},
});

const landingSchema = z
  .string()
  .trim()
  .regex(/^\d{1,2}([.,]\d{1,4})?$/)
  .transform((typed) => Number(typed.replace(',', '.')))
  .pipe(z.number().min(0).max(MOST_LANDING));

/** Both signs are in use for the decimal. */
const weightSchema = ({ low, high }: Clamp) =>
  z
    .string()
    .trim()
    .regex(/^\d([.,]\d{1,4})?$/)
    .transform((typed) => Number(typed.replace(',', '.')))
    .pipe(z.number().min(low).max(high));

function readForm(
  given: Readonly<Record<string, string>>,
  { texts, words }: Viewer,
  bounds: Clamp,
): WeightsForm {
  const says = texts.settings.weights;
  const schema = weightSchema(bounds);
  const { smooth = '', typical = '', rough = '', landing = String(LANDING_WEIGHT) } = given;
  const fields = { smooth, typical, rough, landing };
  const read = [
    ...NAMES.map((name) => [name, schema.safeParse(fields[name])] as const),
    ['landing' as const, landingSchema.safeParse(landing)] as const,
  ];
  const wrong = Object.fromEntries(
    read
      .filter(([, one]) => !one.success)
      .map(([name]) => [
        name,
        name === 'landing'
          ? says.needWeight(words.number(0), words.number(MOST_LANDING))
          : says.needWeight(words.number(bounds.low), words.number(bounds.high)),
      ]),
  );
  if (Object.keys(wrong).length > 0) return { fields, weights: null, wrong };
  const isDefault = Number(landing.replace(',', '.')) === LANDING_WEIGHT;
  const said = isDefault ? read.filter(([name]) => name !== 'landing') : read;
  const weights = Object.fromEntries(said.map(([name, one]) => [name, one.data])) as unknown as Weights;
  const rises = weights.smooth <= weights.typical && weights.typical <= weights.rough;
  return rises
    ? { fields, weights, wrong }
    : {
        fields,
        weights: null,
        wrong: { smooth: says.needOrder, typical: says.needOrder, rough: says.needOrder },
      };
}

/** A unit at a time, so that other people's pages are not held up. */
async function previewAll({ store, clock }: WebDeps, weights: Weights): Promise<Preview> {
  const now = clock.now();
  const unitIds = await store.read(listUnitIds);
  const changes: ChangedState[] = [];
  for (const unitId of unitIds) {
    changes.push(...(await store.read((tx) => previewWeights(tx, unitId, weights, now))));
    await setImmediate();
  }
  const riders = await store.read((tx) => listRidersTold(tx, changes, now));
  return { units: unitIds.length, changes: changes.sort(byUnit), riders: riders.length };
}

const byUnit = (a: ChangedState, b: ChangedState): number =>
  a.unit === b.unit ? (a.serviceKind < b.serviceKind ? -1 : 1) : a.unit < b.unit ? -1 : 1;

function show(
  viewer: Viewer,
  now: Weights,
  { fields, wrong }: WeightsForm,
  done: string | null,
  below: Markup = NOTHING,
): Markup {
  const { texts } = viewer;
  const { weights } = texts.settings;
  const says: Readonly<Record<string, string>> = { saved: weights.saved, unchanged: weights.unchanged };
  const hasFault = Object.keys(wrong).length > 0;
  return page(viewer, {
    title: weights.title,
    current: 'settings',
    body: html`
<h1>${weights.title}</h1>
${saidAfter(null, says[done ?? ''])}
<p class="lead">${weights.lead}</p>
<p>${weightsText(viewer, now)} ${weights.bounds}</p>
${when(hasFault, () => said(texts.interval.fix, 'alert'))}
<form id="asked" method="get" action="/settings/weights">
${([...NAMES, 'landing'] as const).map((name) =>
  field({
    name,
    label: weights[name],
    hint: weights[`${name}Hint`],
    value: fields[name],
    wrong: wrong[name],
    inputmode: 'decimal',
    isShort: true,
    isRequired: true,
  }),
)}
<p><button>${texts.interval.preview}</button></p>
</form>
${below}
<p class="screen"><a href="/settings">${viewer.texts.settings.back}</a></p>`,
  });
}

/** One press puts back what stood before the last change. */
const undoMarkup = (viewer: Viewer, former: Weights | null): Markup => {
  if (former === null) return NOTHING;
  const { weights } = viewer.texts.settings;
  const [smooth, typical, rough] = NAMES.map((name) => twoDecimals(former[name], viewer)) as [
    string,
    string,
    string,
  ];
  return html`<form method="post" action="/settings/weights">${formToken(viewer)}
${NAMES.map((name) => html`<input type="hidden" name="${name}" value="${former[name]}">`)}
<input type="hidden" name="landing" value="${former.landing ?? LANDING_WEIGHT}">
<p>${weights.former(smooth, typical, rough)}</p><p><button>${weights.undo}</button></p></form>`;
};

/** What would change, and the button that saves what stands in the fields above. */
function previewMarkup(viewer: Viewer, weights: Weights, { units, changes, riders }: Preview): Markup {
  const { texts, words } = viewer;
  const { interval } = texts;
  const { columns, ...says } = texts.settings.weights;
  const changed = new Set(changes.map((one) => one.unitId)).size;
  const count = interval.units(units);
  const [smooth, typical, rough] = NAMES.map((name) => twoDecimals(weights[name], viewer)) as [
    string,
    string,
    string,
  ];
  return html`
<section aria-labelledby="preview"><h2 id="preview">${interval.previewTitle}</h2>
<p>${says.previewRule(smooth, typical, rough)} ${
    changed === 0 ? interval.nothing(count) : interval.some(interval.units(changed), count)
  }</p>
${when(
  changed > 0,
  () =>
    html`${table(
      [columns.unit, columns.service, columns.before, columns.after].map((label) => ({ label })),
      changes.map((one) => ({
        head: html`<a href="${pathOfUnit(one.unit)}">${one.unit}</a>`,
        cells: [
          html`${words.serviceKind(one.serviceKind)}`,
          html`${words.state[one.before]}`,
          html`${words.state[one.after]}`,
        ],
      })),
    )}<p>${says.mails(riders)} ${says.mailsHow}</p>`,
)}
<input form="asked" type="hidden" name="shown" value="${shownAs(weights)}">
<p><button class="primary" form="asked" formmethod="post" formaction="/settings/weights" name="token" value="${viewer.formToken}">${says.save}</button></p>
</section>`;
}
