import type { Context } from 'hono';
import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { afterLastRideOf, eveningOf, momentOf } from '../../core/ledger/moment.js';
import { ServiceError } from '../../errors.js';
import type { Entry } from '../../flow/entry.js';
import { getLine, getLinePage, type LineFact, type LinePage } from '../../flow/facts/bookPage.js';
import { voidFact } from '../../flow/facts/changeFact.js';
import { correctFact, getFactRow } from '../../flow/facts/correctFact.js';
import { agreeToClaim } from '../../flow/facts/enterFacts.js';
import type { Rows } from '../../flow/facts/ledgerDocument.js';
import { listAddedKinds } from '../../flow/settings.js';
import { getUnit } from '../../flow/unitLedger.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
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
  const { correct } = form.viewer.texts.paper;
  const { row } = await getFactRow(tx, fact.id);
  const days = fact.kind === 'service' ? { on: form.day('on') } : fittingDays(fact, form);
  if (Object.entries(days).every(([name, value]) => row[name] === value)) throw new NotTaken(correct.same);
  const why = form.why('why');
  const changed = { ...row, ...days };
  if (fact.kind === 'service')
    await correctFact(
      tx,
      fact.id,
      { kind: 'service', row: changed as unknown as Rows['service'] },
      { ...entry, why },
    );
  else {
    const fitting = { kind: 'fitting', row: changed as unknown as Rows['fitting'] } as const;
    await askWhatMoves(tx, form, ofFact(fact), () => correctFact(tx, fact.id, fitting, { ...entry, why }));
  }
}

/** Only a fitting moves rides from unit to unit. */
const ofFact = ({ kind, body }: LineFact) => ({ unitIds: kind === 'fitting' ? [body.unitId] : [] });

/** A moment whose day stays keeps its time; one after a day's last ride is so on another day too. */
function fittingDays(fact: LineFact, form: EntryForm): { readonly from: string; readonly to: string | null } {
  if (fact.kind !== 'fitting')
    throw new ServiceError('wrong-use', 'Only services and fittings have a day to correct.');
  const { from, to } = (fact as Fact<'fitting'>).body;
  const kept = (moment: string, day: Day): string =>
    dayOfMoment(moment, form.viewer) === day
      ? moment
      : isEvening(moment, form.viewer)
        ? afterLastRideOf(day, form.viewer.zone)
        : day;
  const typedFrom = form.day('from');
  const typedTo = form.fields.to === undefined || form.fields.to === '' ? null : form.day('to');
  if (typedTo !== null && typedTo < typedFrom) throw new NotTaken(form.viewer.texts.paper.correct.order);
  return {
    from: kept(from, typedFrom),
    to: typedTo === null ? null : to === null ? typedTo : kept(to, typedTo),
  };
}

const isEvening = (moment: string, { zone }: Viewer): boolean =>
  eveningOf(momentOf(moment, zone)!, zone) !== null;

const dayOfMoment = (moment: string, { zone }: Viewer): Day => dayOf(momentOf(moment, zone)!, zone);

function markup(
  viewer: Viewer,
  { tag, fact, story, bikes, of }: LinePage & { readonly tag: string; readonly of: ServiceOf },
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
${isInForce ? forms(viewer, fact, path, after, of) : html`<p>${paper.correct.gone}</p>`}
<p><a href="${pathOfUnit(tag)}">${paper.back(tag)}</a></p>`,
  });
}

function forms(viewer: Viewer, fact: LineFact, path: string, after: After, of: ServiceOf): Markup {
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
${dayFields(viewer, fact, fields)}
${field({ name: 'why', label: correct.why, value: fields.why, isRequired: true })}
${when(fields.why !== undefined, () => movedTick(viewer, after))}
<p><button>${correct.save}</button></p>
</form></section>`,
)}
<section class="entry"><h2>${correct.voidTitle}</h2><p class="lead">${correct.voidLead}</p>
<form method="post" action="${path}/void">${formToken(viewer)}
${field({ name: 'voidWhy', label: correct.voidWhy, value: fields.voidWhy, isRequired: true })}
${when(fields.voidWhy !== undefined, () => movedTick(viewer, after))}
<p><button class="plain">${correct.void}</button></p>
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

function dayFields(viewer: Viewer, fact: LineFact, fields: After['fields']): Markup {
  const { correct } = viewer.texts.paper;
  const of = (name: string, label: string, value: string) =>
    ({ name, id: `day-${name}`, label, type: 'date', value: fields[name] ?? value, isShort: true }) as const;
  if (fact.kind === 'service')
    return field({ ...of('on', correct.on, (fact as Fact<'service'>).body.on), isRequired: true });
  const { from, to } = (fact as Fact<'fitting'>).body;
  return html`${field({ ...of('from', correct.from, dayOfMoment(from, viewer)), isRequired: true })}
${field({ ...of('to', correct.to, to === null ? '' : dayOfMoment(to, viewer)), hint: correct.toHint })}`;
}
