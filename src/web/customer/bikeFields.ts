import { html } from 'hono/html';
import { z } from 'zod';
import { parseDay } from '../../core/days/dayNumber.js';
import { isLine } from '../../core/lines.js';
import { BIKE_TYPES } from '../../core/tokens.js';
import type { NewUnit } from '../../flow/counter/newThings.js';
import type { Day } from '../../units.js';
import { choice, examplesFor, field, type Markup } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';

/** What a person typed, and what is wrong with it by field. */
export interface TypedForm {
  readonly fields: Fields;
  readonly wrong: Readonly<Partial<Record<string, string>>>;
}

export const nameSchema = z.string().trim().min(1).max(100).refine(isLine);
/** Null where the field was left empty. */
export const lineOrNull = z
  .string()
  .trim()
  .max(100)
  .refine(isLine)
  .transform((text) => (text === '' ? null : text));

const SPRUNG = ['none', 'air', 'coil'] as const;

/** A day that is not to come; left empty: today. */
export const daySchema = (today: Day) =>
  z
    .string()
    .transform((text) => (text === '' ? today : parseDay(text)))
    .refine((day): day is Day => day !== null && day <= today);

/** A bike with what is on it, and since when. */
export const bikeShape = (today: Day) => ({
  bike: nameSchema,
  type: z.enum(BIKE_TYPES),
  fork: z.enum(SPRUNG),
  forkModel: lineOrNull,
  shock: z.enum(SPRUNG),
  shockModel: lineOrNull,
  since: daySchema(today),
  history: z.enum(['new', 'unknown']),
});
export type BikeForm = z.output<z.ZodObject<ReturnType<typeof bikeShape>>>;

/** Returns the units that a form speaks of. */
export function unitsIn({ fork, forkModel, shock, shockModel, history }: BikeForm): NewUnit[] {
  const units: NewUnit[] = [];
  const rest = { serial: null, history };
  if (fork !== 'none') units.push({ unitKind: 'fork', spring: fork, model: forkModel, ...rest });
  if (shock !== 'none') units.push({ unitKind: `${shock}-shock`, model: shockModel, ...rest });
  return units;
}

/** Returns what is wrong, in the page's words, by field. */
export function bikeFaults(
  { texts: { customer } }: Viewer,
  issues: readonly z.core.$ZodIssue[],
): TypedForm['wrong'] {
  const say: Readonly<Record<string, string>> = customer.need;
  return Object.fromEntries(
    issues.map(({ path }) => [String(path[0]), say[String(path[0])] ?? customer.need.line]),
  );
}

/** A field of a form whose first fault has the focus. */
export const typedField = (
  { fields, wrong }: TypedForm,
  of: Omit<Parameters<typeof field>[0], 'value' | 'wrong' | 'isFocused'> & { readonly usual?: string },
): Markup =>
  field({
    ...of,
    value: fields[of.name] ?? of.usual ?? '',
    wrong: wrong[of.name],
    isFocused: Object.keys(wrong)[0] === of.name,
  });

export function bikeFields(viewer: Viewer, form: TypedForm): Markup {
  const { texts, words, today } = viewer;
  const { customer } = texts;
  const { fields, wrong } = form;
  const pick = (
    name: string,
    label: string,
    usual: string,
    choices: readonly string[],
    say: (of: string) => string,
  ) =>
    choice({
      name,
      label,
      wrong: wrong[name],
      value: fields[name] ?? usual,
      choices: choices.map((value) => ({ value, label: say(value) })),
    });
  const sprung = (of: string): string => customer.sprung[of as keyof typeof customer.sprung];
  const type = (of: string): string => words.bikeType[of as keyof typeof words.bikeType];
  const past = (of: string): string => customer.histories[of as keyof typeof customer.histories];
  return html`
<div class="pair">
${typedField(form, { name: 'bike', label: customer.bike, hint: customer.bikeHint, isRequired: true, examples: examplesFor('bike', texts.forExample, customer.bikeExamples) })}
${pick('type', customer.type, 'trail', BIKE_TYPES, type)}
${pick('fork', customer.fork, 'air', SPRUNG, sprung)}
${typedField(form, { name: 'forkModel', label: customer.forkModel })}
${pick('shock', customer.shock, 'none', SPRUNG, sprung)}
${typedField(form, { name: 'shockModel', label: customer.shockModel })}
${typedField(form, { name: 'since', label: customer.since, type: 'date', isShort: true, usual: today })}
${pick('history', customer.history, 'unknown', ['new', 'unknown'], past)}
</div>`;
}
