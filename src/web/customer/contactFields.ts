import { html } from 'hono/html';
import { z } from 'zod';
import { isLine } from '../../core/lines.js';
import { LANGUAGES, wordsFor } from '../../languages/index.js';
import { choice, type Markup } from '../markup.js';
import type { Viewer } from '../viewer.js';
import { nameSchema, type TypedForm, typedField } from './bikeFields.js';

const emptyIsNull = z
  .string()
  .trim()
  .transform((text) => (text === '' ? null : text));

/** How to reach a rider. */
export const contactShape = {
  name: nameSchema,
  phone: emptyIsNull.pipe(z.string().max(40).refine(isLine).nullable()),
  email: emptyIsNull.pipe(z.email().max(254).nullable()),
  language: z.enum(LANGUAGES),
};

/** How to reach a rider: the same fields for one who is new and one who is known. */
export const contactFields = (viewer: Viewer, form: TypedForm): Markup => {
  const { customer, first } = viewer.texts;
  return html`<div class="pair">
${typedField(form, { name: 'name', label: customer.name, isRequired: true })}
${typedField(form, { name: 'phone', label: first.phone, type: 'tel' })}
${typedField(form, { name: 'email', label: first.email, hint: customer.emailHint, type: 'email' })}
${choice({
  name: 'language',
  label: customer.language,
  wrong: form.wrong.language,
  value: form.fields.language ?? viewer.words.language,
  choices: LANGUAGES.map((value) => ({ value, label: wordsFor(value).name })),
})}
</div>`;
};
