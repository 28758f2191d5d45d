import type { Context } from 'hono';
import { html } from 'hono/html';
import type { Fact } from '../../core/ledger/facts.js';
import { ServiceError } from '../../errors.js';
import type { Entry } from '../../flow/entry.js';
import { getLine, getLinePage, type LineFact, type LinePage } from '../../flow/facts/bookPage.js';
import { voidFact } from '../../flow/facts/changeFact.js';
import { correctFact, getFactRow } from '../../flow/facts/correctFact.js';
import { agreeToClaim } from '../../flow/facts/enterFacts.js';
import type { Rows } from '../../flow/facts/ledgerDocument.js';
import { listAlong, moveFitting } from '../../flow/fittings/moveFitting.js';
import { listAddedKinds } from '../../flow/settings.js';
import { getUnit } from '../../flow/unitLedger.js';
import type { Tx } from '../../ports/store.js';
import { actButton } from '../cells/actButton.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { EntryForm, NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { field, type Markup, saidAfter, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { type After, afterQuery, taken } from '../taken.js';
import { askWhatMoves, movedTick } from '../unit/movedRides.js';
import { fieldsOfService, readService, type ServiceOf, serviceFields } from '../unit/serviceForm.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { pathOfLine } from './bookMarkup.js';
import { spanFields, spanIn } from './fittingFields.js';
import { storyRows } from './storyMarkup.js';

/** Another day for a line of the service book, or its taking back; each with a why. */
export function correctPage(pages: Pages, deps: WebDeps): void {
  type LineContext = Context<WebEnv, '/units/:tag/lines/:fact'>;
  const show = async (c: LineContext, after: After): Promise<Markup> => {
    const { tag, fact } = c.req.param();
    const view = await deps.store.read((tx) => getLinePage(tx, tag, fact));
    const of = { ledger: { unit: view.unit }, addedKinds: view.addedKinds, comingJob: null };
    return markup(c.get('viewer'), { tag, ...view, of }, after);
  };

  pages.get('/units/:tag/lines/:fact', async (c) => c.html(await show(c, afterQuery(c))));

  for (const [name, act] of [
    ['day', correctDay],
    ['void', takeBack],
    ['service', correctService],
    ['agree', agree],
  ] as const) {
    pages.post(`/units/:tag/lines/:fact/${name}`, async (c) => {
      const viewer = c.get('viewer');
      const { tag, fact: factId } = c.req.param();
      const fields = await fieldsOf(c);
      const work = async (): Promise<string> => {
        const form = new EntryForm(fields, viewer);
        await change(deps, c, async (tx, entry) => act(tx, await getLine(tx, tag, factId), form, entry));
        return `${pathOfUnit(tag)}?done=${DONE[name]}`;
      };
      return taken(c, fields, work, (after) => show(c as LineContext, after));
    });
  }
}

const DONE = { day: 'corrected', void: 'void', agree: 'agreed', service: 'corrected' } as const;

/** Everything of a service at once: kind, day, where, findings, parts, technician, note. */
async function correctService(tx: Tx, fact: LineFact, form: EntryForm, entry: Entry): Promise<void> {
  if (fact.kind !== 'service') throw new NotTaken(form.viewer.texts.paper.correct.onlyService);
  const { row } = await getFactRow(tx, fact.id);
  const unit = await getUnit(tx, fact.body.unitId);
  const said = readService(form, unit, await listAddedKinds(tx));
  const { parts: _parts, technician: _technician, ...kept } = row as unknown as Rows['service'];
  const isOtherJob = said.serviceKind !== kept.serviceKind;
  const changed = { ...kept, ...said, restarts: isOtherJob ? null : kept.restarts };
  const why = form.why('serviceWhy');
  await correctFact(tx, fact.id, { kind: 'service', row: changed }, { ...entry, why });
}

async function agree(tx: Tx, fact: LineFact, form: EntryForm, entry: Entry): Promise<void> {
  await agreeToClaim(tx, fact.id, form.viewer.texts.paper.correct.agreed, entry);
}

async function takeBack(tx: Tx, fact: LineFact, form: EntryForm, entry: Entry): Promise<void> {
  const why = form.why('voidWhy');
  await askWhatMoves(tx, form, ofFact(fact), () => voidFact(tx, fact.id, why, entry));
}

async function correctDay(tx: Tx, fact: LineFact, form: EntryForm, entry: Entry): Promise<void> {
  if (fact.kind === 'fitting') return correctSpan(tx, fact as Fact<'fitting'>, form, entry);
  if (fact.kind !== 'service')
    throw new ServiceError('wrong-use', 'Only services and fittings have a day to correct.');
  const { row } = await getFactRow(tx, fact.id);
  const on = form.day('on');
  if (row.on === on) throw new NotTaken(form.viewer.texts.paper.correct.same);
  const why = form.why('why');
  const changed = { ...row, on } as unknown as Rows['service'];
  await correctFact(tx, fact.id, { kind: 'service', row: changed }, { ...entry, why });
}

/** What was swapped with it moves along, so that no half of a swap is left. */
async function correctSpan(tx: Tx, fact: Fact<'fitting'>, form: EntryForm, entry: Entry): Promise<void> {
  const span = spanIn(form, fact);
  if (span.from === fact.body.from && span.to === fact.body.to)
    throw new NotTaken(form.viewer.texts.paper.correct.same);
  const why = form.why('why');
  const isAlone = form.isTicked('alone');
  const along = isAlone ? [] : [...(await listAlong(tx, fact)).values()].flat();
  await askWhatMoves(tx, form, { unitIds: [fact.body.unitId, ...along] }, () =>
    moveFitting(tx, fact, { span, isAlone }, { ...entry, why }),
  );
}

/** Only a fitting moves rides from unit to unit. */
const ofFact = ({ kind, body }: LineFact) => ({ unitIds: kind === 'fitting' ? [body.unitId] : [] });

function markup(
  viewer: Viewer,
  { tag, fact, story, bikes, along, of }: LinePage & { readonly tag: string; readonly of: ServiceOf },
  after: After,
): Markup {
  const { texts } = viewer;
  const { paper } = texts;
  const { columns } = paper.book;
  const isInForce = story.some((line) => line.isInForce);
  const path = pathOfLine(tag, fact.id);
  return page(viewer, {
    title: paper.correct.title,
    current: 'units',
    body: html`
<h1>${paper.correct.title}</h1>
${saidAfter(after.fault, undefined)}
<p class="lead">${paper.correct.lead}</p>
${table(
  [columns.day, columns.what, columns.by].map((label) => ({ label })),
  storyRows(viewer, story, bikes),
)}
${isInForce ? forms(viewer, { fact, along }, path, after, of) : html`<p>${paper.correct.gone}</p>`}
<p class="screen"><a href="${pathOfUnit(tag)}">${paper.back(tag)}</a></p>`,
  });
}

function forms(
  viewer: Viewer,
  { fact, along }: Pick<LinePage, 'fact' | 'along'>,
  path: string,
  after: After,
  of: ServiceOf,
): Markup {
  const { fields } = after;
  const { correct } = viewer.texts.paper;
  return html`
${when(
  fact.kind === 'service' && (fact as Fact<'service'>).body.isClaim === true,
  () => html`<section class="entry"><h2>${correct.agreeTitle}</h2><p class="lead">${correct.agreeLead}</p>
<form method="post" action="${path}/agree">${formToken(viewer)}
<p><button>${correct.agree}</button></p>
</form></section>`,
)}
${when(fact.kind === 'service', () => serviceForm(viewer, fact as Fact<'service'>, path, after, of))}
${when(
  fact.kind === 'fitting' || fact.kind === 'service',
  () => html`<section class="entry"><h2>${correct.dayTitle}</h2>
<form method="post" action="${path}/day">${formToken(viewer)}
${dayFields(viewer, fact, fields, along)}
${field({ name: 'why', label: correct.why, value: fields.why, isRequired: true })}
${when(fields.why !== undefined, () => movedTick(viewer, after))}
<p><button>${correct.save}</button></p>
</form></section>`,
)}
<section class="entry"><h2>${correct.voidTitle}</h2>
<form method="post" action="${path}/void">${formToken(viewer)}
${field({ name: 'voidWhy', label: correct.voidWhy, value: fields.voidWhy, isRequired: true })}
${when(fields.voidWhy !== undefined, () => movedTick(viewer, after))}
${actButton({ id: 'void', label: correct.void, tells: correct.voidLead, look: 'grave' })}
</form></section>`;
}

function serviceForm(
  viewer: Viewer,
  { body }: Fact<'service'>,
  path: string,
  after: After,
  of: ServiceOf,
): Markup {
  const { correct } = viewer.texts.paper;
  const isSent = after.fields.kind !== undefined;
  const fields = isSent ? after.fields : fieldsOfService(body);
  return html`<details class="entry"${isSent ? html` open` : ''}><summary><h2>${correct.serviceTitle}</h2></summary>
<form method="post" action="${path}/service">${formToken(viewer)}
${serviceFields(viewer, of, { ...after, fields }, [])}
${field({ name: 'serviceWhy', label: correct.why, value: after.fields.serviceWhy, isRequired: true })}
<p><button>${correct.saveService}</button></p></form></details>`;
}

function dayFields(
  viewer: Viewer,
  fact: LineFact,
  fields: After['fields'],
  along: readonly string[],
): Markup {
  if (fact.kind === 'fitting') return spanFields(viewer, fact as Fact<'fitting'>, fields, along);
  const { on } = (fact as Fact<'service'>).body;
  return field({
    ...{ name: 'on', id: 'day-on', label: viewer.texts.paper.correct.on, type: 'date' },
    value: fields.on ?? on,
    isShort: true,
    isRequired: true,
  });
}
