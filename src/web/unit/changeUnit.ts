import { html } from 'hono/html';
import { z } from 'zod';
import { parseDay } from '../../core/days/dayNumber.js';
import type { Fact, UnitFact } from '../../core/ledger/facts.js';
import { SPRINGS } from '../../core/tokens.js';
import { springOf } from '../../flow/counter/newThings.js';
import type { Day } from '../../units.js';
import { lineOrNull, typedField } from '../customer/bikeFields.js';
import { NotTaken } from '../entryForm.js';
import { choice, type Markup, when } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';

/** A number that may be left out, with a comma or a point. */
const number = (low: number, high: number) =>
  z
    .string()
    .trim()
    .transform((text) => (text === '' ? undefined : Number(text.replace(',', '.'))))
    .pipe(z.number().min(low).max(high).optional());
const dayOrNull = z
  .string()
  .transform((text) => (text === '' ? null : (parseDay(text) ?? undefined)))
  .pipe(z.custom<Day | null>((value) => value !== undefined));

/** The same bounds as those of an import file. */
const schema = z.object({
  model: lineOrNull,
  serial: lineOrNull,
  spring: z.enum(SPRINGS).catch('air'),
  modelYear: number(1980, 2200).pipe(z.number().int().optional()),
  travelMm: number(1, 500),
  warrantyEnd: dayOrNull,
  factor: number(0.5, 3).transform((value) => value ?? 1),
  history: z.enum(['new', 'unknown', 'hours']),
  terrainHours: number(0, 100_000),
  movingHours: number(0, 100_000),
  asOf: dayOrNull,
});

/** Returns a unit in the words of the form. Errors: NotTaken. */
export function unitWords(
  fields: Fields,
  { texts: { customer }, today }: Viewer,
  before: Pick<UnitFact, 'unitKind'>,
): Partial<UnitFact> {
  const given = schema.safeParse(fields);
  if (!given.success) throw new NotTaken(customer.things.needNumber);
  const {
    history,
    terrainHours = 0,
    movingHours = 0,
    asOf,
    spring,
    modelYear,
    travelMm,
    ...rest
  } = given.data;
  if (history === 'hours' && (asOf === null || asOf > today)) throw new NotTaken(customer.need.since);
  return {
    ...rest,
    // Left out where nothing is said, also where something was.
    ...({ modelYear, travelMm, spring: springOf(before.unitKind, spring).spring } as Partial<UnitFact>),
    history: history === 'hours' ? { terrainHours, movingHours, asOf: asOf! } : history,
  };
}

const textOf = (value: number | string | null | undefined): string => (value == null ? '' : String(value));

export function unitFields(viewer: Viewer, { id, body }: Fact<'unit'>, sent: Fields): Markup {
  const { customer } = viewer.texts;
  const { things } = customer;
  const { history } = body;
  const had = typeof history === 'string' ? null : history;
  const now: Fields = {
    model: textOf(body.model),
    serial: textOf(body.serial),
    spring: body.spring ?? 'air',
    modelYear: textOf(body.modelYear),
    travelMm: textOf(body.travelMm),
    warrantyEnd: textOf(body.warrantyEnd),
    factor: textOf(body.factor),
    history: typeof history === 'string' ? history : 'hours',
    terrainHours: textOf(had?.terrainHours),
    movingHours: textOf(had?.movingHours),
    asOf: textOf(had?.asOf),
  };
  const form = { fields: { ...now, ...sent }, wrong: {} };
  const histories = { ...customer.histories, hours: things.hoursThen };
  const figure = (name: string, label: string) =>
    typedField(form, { name, label, inputmode: 'decimal', isShort: true });
  return html`<input type="hidden" name="known" value="${sent.known ?? id}">
<div class="pair">
${typedField(form, { name: 'model', label: things.model })}
${typedField(form, { name: 'serial', label: things.serial })}
${when(body.unitKind === 'fork', () => choice({ name: 'spring', label: things.spring, value: form.fields.spring ?? 'air', choices: SPRINGS.map((value) => ({ value, label: customer.sprung[value] })) }))}
${figure('modelYear', things.year)}
${figure('travelMm', things.travel)}
${typedField(form, { name: 'warrantyEnd', label: things.warranty, hint: things.warrantyHint, type: 'date', isShort: true })}
${typedField(form, { name: 'factor', label: things.factor, hint: things.factorHint, inputmode: 'decimal', isShort: true })}
${choice({ name: 'history', label: things.history, value: form.fields.history ?? 'unknown', choices: (['new', 'unknown', 'hours'] as const).map((value) => ({ value, label: histories[value] })) })}
${figure('terrainHours', things.terrain)}
${figure('movingHours', things.movingH)}
${typedField(form, { name: 'asOf', label: things.asOf, type: 'date', isShort: true })}
</div>
<p><button>${things.save}</button></p>`;
}
