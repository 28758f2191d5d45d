import { html } from 'hono/html';
import type { ServiceFact, UsedPart } from '../../core/ledger/facts.js';
import { lookFields, SECOND_LOOK_NAMES } from '../../core/ledger/findings.js';
import { type AddedServiceKind, jobsOf } from '../../core/ledger/serviceKinds.js';
import type { PartUse } from '../../core/plan/parts.js';
import { DONE_BY, type DoneBy, type ServiceKind } from '../../core/tokens.js';
import type { UnitPage } from '../../flow/due/unitPage.js';
import { partText } from '../cells/planCells.js';
import { type EntryForm, NotTaken } from '../entryForm.js';
import { looksForm, readLooks } from '../looks/looks.js';
import { choice, field, type Markup, tick, when } from '../markup.js';
import type { After, Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';
import { readUsedParts } from './usedParts.js';

/** What the form needs of the unit. */
export type ServiceOf = Pick<UnitPage, 'addedKinds' | 'comingJob'> & {
  readonly ledger: Pick<UnitPage['ledger'], 'unit'>;
};

/** The fields by which a service is logged or put right. Shape: `parts` is what its kind takes; empty to show none. */
export function serviceFields(
  viewer: Viewer,
  { ledger: { unit: of }, addedKinds, comingJob }: ServiceOf,
  { fields, fault, at }: After,
  parts: readonly PartUse[],
): Markup {
  const { unit } = viewer.texts;
  const jobs = jobsOf(of, addedKinds);
  const wrong = (name: string): string | undefined => (fault !== null && at === name ? fault : undefined);
  const text = (name: 'parts' | 'technician' | 'note', hint?: string): Markup =>
    field({
      name,
      label: unit[name],
      value: fields[name],
      wrong: wrong(name),
      isFocused: wrong(name) !== undefined,
      ...(hint === undefined ? {} : { hint }),
    });
  const kind = fields.kind ?? comingJob ?? jobs[0]!;
  return html`
${choice({
  name: 'kind',
  label: unit.kind,
  value: kind,
  wrong: wrong('kind'),
  choices: jobs.map((job) => ({ value: job, label: viewer.words.serviceKind(job) })),
})}
${field({ name: 'on', label: unit.on, type: 'date', value: fields.on ?? viewer.today, isShort: true, isRequired: true, wrong: wrong('on'), isFocused: wrong('on') !== undefined })}
${choice({
  name: 'by',
  label: unit.doneBy,
  value: fields.by ?? 'here',
  choices: DONE_BY.map((by) => ({ value: by, label: viewer.words.doneBy[by] })),
})}
${when(fields.renewed === 'yes', () => html`<input type="hidden" name="renewed" value="yes">`)}
<fieldset class="field"><legend>${unit.found}</legend><p class="hint">${unit.foundHint}</p>
${looksForm(viewer, of, fields)}
</fieldset>
${when(parts.length > 0, () => partFields(viewer, kind, parts, fields))}
${text('parts', unit.partsHint)}
${text('technician')}
${text('note')}
${when(at === 'again', () => tick('again', unit.logAgain, false))}`;
}

/** What the kind takes, each with its usual amount: a tap takes one out, the amount can be typed over. */
function partFields(viewer: Viewer, kind: ServiceKind, parts: readonly PartUse[], fields: Fields): Markup {
  const { unit } = viewer.texts;
  const isSent = fields.partsOf === kind;
  return html`<fieldset class="field"><legend>${unit.takes(viewer.words.serviceKind(kind))}</legend>
<input type="hidden" name="partsOf" value="${kind}">
${parts.map(({ part, count, measure }, i) => {
  const isTicked = !isSent || fields[`part-${i}`] === 'yes';
  const label = `${partText(part, viewer)}${measure === 'ml' ? ` (${unit.inMl})` : ''}`;
  return html`<div class="used">${tick(`part-${i}`, label, isTicked)}<input type="hidden" name="name-${i}" value="${part}"><input type="hidden" name="measure-${i}" value="${measure}"><input class="short" name="amount-${i}" aria-label="${unit.amountOf(partText(part, viewer))}" inputmode="decimal" value="${(isSent ? fields[`amount-${i}`] : undefined) ?? String(count)}"></div>`;
})}
<p><button name="show" value="parts">${unit.showParts}</button></p></fieldset>`;
}

/** What a full service renews, where it is done here. */
const RENEWED = ['foamRingsNow', 'wipersNow'] as const;
const isRenewing = (kind: ServiceKind, by: string): boolean => kind === 'full' && by === 'here';

/**
 * Returns the fields with *new* chosen for rings and wipers where the form is for a full service done here; and without
 * what was chosen so, once it is for another job.
 */
export function withRenewed(of: ServiceOf, fields: Fields): Fields {
  const { unit } = of.ledger;
  const kind = fields.kind ?? of.comingJob ?? jobsOf(unit, of.addedKinds)[0]!;
  const names = lookFields(unit).map(({ name }) => name);
  const own = RENEWED.filter((name) => names.includes(name));
  if (isRenewing(kind, fields.by ?? 'here')) {
    if (fields.renewed === 'yes') return fields;
    return {
      ...fields,
      ...Object.fromEntries(own.map((name) => [name, fields[name] || 'new'])),
      renewed: 'yes',
    };
  }
  if (fields.renewed !== 'yes') return fields;
  const rest = own.map((name) => [name, fields[name] === 'new' ? '' : (fields[name] ?? '')]);
  return { ...fields, ...Object.fromEntries(rest), renewed: '' };
}

const MOST_PARTS = 100;

/** Returns the listed parts that are ticked. Errors: NotTaken where an amount is none, or they are of another kind. */
function readListed(form: EntryForm, serviceKind: ServiceKind): UsedPart[] {
  const { fields, viewer } = form;
  const used: UsedPart[] = [];
  for (let i = 0; i < MOST_PARTS && fields[`name-${i}`] !== undefined; i++) {
    if (!form.isTicked(`part-${i}`)) continue;
    const count = Number((fields[`amount-${i}`] ?? '').trim().replace(',', '.'));
    const part = form.line(`name-${i}`);
    if (part === null || !(count > 0 && count <= MOST_OF_PART))
      throw new NotTaken(viewer.texts.unit.needAmount, `amount-${i}`);
    used.push({ part, count, measure: fields[`measure-${i}`] === 'ml' ? 'ml' : 'pieces' });
  }
  if (used.length > 0 && fields.partsOf !== serviceKind)
    throw new NotTaken(viewer.texts.unit.otherParts, 'kind');
  return used;
}

const MOST_OF_PART = 100_000;

/** Returns what a form says of a service. Errors: NotTaken, naming the field. */
export function readService(
  form: EntryForm,
  unit: ServiceOf['ledger']['unit'],
  added: readonly AddedServiceKind[],
): Omit<ServiceFact, 'unitId' | 'restarts'> {
  const serviceKind = form.choice('kind', jobsOf(unit, added));
  const by = form.fields.by ? (form.choice('by', DONE_BY) as DoneBy) : 'here';
  if (form.isTicked('renewed') && !isRenewing(serviceKind, by))
    if (RENEWED.some((name) => form.fields[name] === 'new'))
      throw new NotTaken(form.viewer.texts.unit.sayRenewed, 'kind');
  const listed = readListed(form, serviceKind);
  const typed = readUsedParts(form.line('parts') ?? '');
  if (typed === null) throw new NotTaken(form.viewer.texts.unit.needParts, 'parts');
  const parts = [...listed, ...typed];
  const technician = form.line('technician');
  const findings = readLooks(form, unit);
  const isOwn = (name: string | undefined): boolean =>
    name !== undefined && name.toLowerCase() === technician?.toLowerCase();
  if (Object.values(SECOND_LOOK_NAMES).some((name) => isOwn(findings?.[name])))
    throw new NotTaken(form.viewer.texts.sheets.needSecond, 'technician');
  return {
    serviceKind,
    on: form.day('on'),
    by,
    findings,
    note: form.line('note'),
    ...(parts.length === 0 ? {} : { parts }),
    ...(technician === null ? {} : { technician }),
  };
}

/** Returns a service as the form has it, so that all of it can be put right. */
export const fieldsOfService = (service: Omit<ServiceFact, 'unitId' | 'restarts'>): Fields => ({
  ...service.findings,
  kind: service.serviceKind,
  on: service.on,
  by: service.by,
  note: service.note ?? '',
  technician: service.technician ?? '',
  parts: (service.parts ?? [])
    .map(({ part, count, measure }) => `${count} ${measure === 'ml' ? 'ml' : '×'} ${part}`)
    .join('; '),
});
