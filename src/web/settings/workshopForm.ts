import { html } from 'hono/html';
import { z } from 'zod';
import { isTimeZone } from '../../core/days/calendar.js';
import { isLine, isLines } from '../../core/lines.js';
import { WEEKDAYS, type Weekday } from '../../core/tokens.js';
import { LANGUAGES, wordsFor } from '../../languages/index.js';
import { choice, examplesFor, field, type Markup, when, wrongNote, zoneExample } from '../markup.js';
import type { Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';

/** A browser sends a line's end as two signs. */
const optional = z
  .string()
  .transform((text) => text.replace(/\r\n?/g, '\n').trim())
  .transform((text) => (text === '' ? null : text));

/** What a new workshop says of itself. */
export const newWorkshopSchema = z.object({
  name: z.string().trim().min(1).max(100).refine(isLine),
  timeZone: z.string().refine(isTimeZone),
  openDays: z.array(z.enum(WEEKDAYS)).min(1),
  language: z.enum(LANGUAGES).catch('en'),
  email: optional.pipe(z.email().max(254).nullable()),
  phone: optional.pipe(z.string().max(40).refine(isLine).nullable()),
  openingHours: optional.pipe(z.string().max(200).refine(isLine).nullable()),
});

/** The same bounds as those of an import file, and the phone number's own. */
export const workshopSchema = newWorkshopSchema.extend({
  address: optional.pipe(z.string().max(500).refine(isLines).nullable()),
});

export type WrongFields = Readonly<Partial<Record<string, string>>>;

/** Returns what is wrong, in the page's words, by field. */
export function wrongOf(
  { texts: { first, settings } }: Viewer,
  issues: readonly z.core.$ZodIssue[],
): WrongFields {
  const say: Record<string, string> = {
    name: first.needName,
    timeZone: first.needZone,
    openDays: first.needDays,
    email: first.needEmail,
    phone: first.needPhone,
    address: settings.needAddress,
    openingHours: settings.needOpeningHours,
  };
  return Object.fromEntries(
    issues.map(({ path }) => [String(path[0]), say[String(path[0])] ?? first.needName]),
  );
}

export interface WorkshopForm {
  readonly fields: Fields;
  readonly openDays: readonly string[];
  readonly wrong: WrongFields;
}

export const nameField = ({ texts: { first } }: Viewer, { fields, wrong }: WorkshopForm): Markup =>
  field({
    name: 'name',
    label: first.name,
    hint: first.nameHint,
    value: fields.name,
    wrong: wrong.name,
    isRequired: true,
    autocomplete: 'organization',
  });

export function zoneField({ texts: { first } }: Viewer, { fields, wrong }: WorkshopForm): Markup {
  // A zone that was typed into a file may be one that the list leaves out.
  const zones = [...new Set(['UTC', ...Intl.supportedValuesOf('timeZone'), fields.timeZone ?? 'UTC'])];
  return choice({
    name: 'timeZone',
    label: first.timeZone,
    hint: first.timeZoneHint,
    wrong: wrong.timeZone,
    value: fields.timeZone ?? 'UTC',
    examples: zoneExample('timeZone', first.browserZone),
    choices: zones.map((zone) => ({ value: zone, label: zone })),
  });
}

export const languageField = (
  { texts: { first } }: Viewer,
  { fields }: WorkshopForm,
  hint?: string,
): Markup =>
  choice({
    name: 'language',
    label: first.language,
    value: fields.language ?? 'en',
    choices: LANGUAGES.map((value) => ({ value, label: wordsFor(value).name })),
    ...(hint === undefined ? {} : { hint }),
  });

export const contactFields = ({ texts: { first } }: Viewer, { fields, wrong }: WorkshopForm): Markup => html`
${field({ name: 'email', label: first.email, hint: first.emailHint, value: fields.email, wrong: wrong.email, type: 'email', autocomplete: 'email' })}
${field({ name: 'phone', label: first.phone, hint: first.phoneHint, value: fields.phone, wrong: wrong.phone, type: 'tel', autocomplete: 'tel' })}`;

export const openingHoursField = ({ texts }: Viewer, { fields, wrong }: WorkshopForm): Markup =>
  field({
    name: 'openingHours',
    label: texts.settings.openingHours,
    hint: texts.settings.openingHoursHint,
    value: fields.openingHours,
    wrong: wrong.openingHours,
    examples: examplesFor('openingHours', texts.forExample, texts.settings.openingHoursExamples),
  });

/** 1 January 2024 was a Monday. */
export const weekdayName = (day: Weekday, locale: string): string =>
  new Intl.DateTimeFormat(locale, { weekday: 'long', timeZone: 'UTC' }).format(
    Date.UTC(2024, 0, 1 + WEEKDAYS.indexOf(day)),
  );

export const daysField = (
  { texts, words }: Viewer,
  { openDays, wrong }: WorkshopForm,
  hint?: string,
): Markup => html`
<fieldset class="field"${when(wrong.openDays !== undefined, () => html` aria-describedby="openDays-wrong"`)}>
<legend>${texts.first.openDays}</legend>
${when(hint !== undefined, () => html`<p class="hint">${hint}</p>`)}
${WEEKDAYS.map(
  (day) => html`
<label class="tick"><input type="checkbox" name="openDays" value="${day}"${openDays.includes(day) ? html` checked` : ''}>${weekdayName(day, words.locale)}</label>`,
)}
${wrongNote({ name: 'openDays', wrong: wrong.openDays })}
</fieldset>`;
