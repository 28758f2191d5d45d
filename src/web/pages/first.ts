import type { Hono } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { isTimeZone } from '../../core/calendar.js';
import { WEEKDAYS, type Weekday } from '../../core/tokens.js';
import { createWorkshop } from '../../flow/createWorkshop.js';
import type { WebDeps } from '../deps.js';
import { fieldsOf, valuesOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, field, type Markup, said, when, wrongNote } from '../markup.js';
import type { Viewer, WebEnv } from '../viewer.js';

const LANGUAGES = [
  { value: 'en', label: 'English' },
  { value: 'pt', label: 'Português' },
];

const oneLine = /^[^\p{Cc}\p{Zl}\p{Zp}]*$/u;
const optional = z
  .string()
  .trim()
  .transform((text) => (text === '' ? null : text));

const schema = z.object({
  name: z.string().trim().min(1).max(100).regex(oneLine),
  timeZone: z.string().refine(isTimeZone),
  openDays: z.array(z.enum(WEEKDAYS)).min(1),
  language: z.enum(['en', 'pt']).catch('en'),
  email: optional.pipe(z.email().max(254).nullable()),
  phone: optional.pipe(z.string().max(40).regex(oneLine).nullable()),
});

type Fields = Readonly<Record<string, string>>;
type Wrong = Readonly<Partial<Record<string, string>>>;

/** The page that stands in place of all others until there is a workshop. */
export function firstPage(app: Hono<WebEnv>, { store, clock }: WebDeps): void {
  app.get('/workshop', (c) => {
    const viewer = c.get('viewer');
    if (viewer.workshop !== null) return c.redirect('/', 303);
    const openDays = ['tue', 'wed', 'thu', 'fri', 'sat'];
    const { timeZone } = new Intl.DateTimeFormat().resolvedOptions();
    return c.html(show(viewer, { timeZone, language: viewer.words.language }, openDays, {}));
  });

  app.post('/workshop', async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const openDays = await valuesOf(c, 'openDays');
    const given = schema.safeParse({ email: '', phone: '', ...fields, openDays });
    if (!given.success) {
      const wrong = wrongOf(viewer, given.error.issues);
      return c.html(show(viewer, fields, openDays, wrong), 422);
    }
    await store.write((tx) => createWorkshop(tx, given.data, { by: viewer.account.name, at: clock.now() }));
    return c.redirect('/', 303);
  });
}

function wrongOf({ texts: { first } }: Viewer, issues: readonly z.core.$ZodIssue[]): Wrong {
  const say: Record<string, string> = {
    name: first.needName,
    timeZone: first.needZone,
    openDays: first.needDays,
    email: first.needEmail,
    phone: first.needPhone,
  };
  return Object.fromEntries(
    issues.map(({ path }) => [String(path[0]), say[String(path[0])] ?? first.needName]),
  );
}

function show(viewer: Viewer, fields: Fields, openDays: readonly string[], wrong: Wrong): Markup {
  const { texts } = viewer;
  const { first } = texts;
  const zones = [...new Set(['UTC', ...Intl.supportedValuesOf('timeZone')])];
  const of = (name: 'name' | 'email' | 'phone', label: string, hint: string) => ({
    name,
    label,
    hint,
    value: fields[name],
    wrong: wrong[name],
  });
  return page(viewer, {
    title: first.title,
    body: html`
<h1>${first.title}</h1>
<p class="lead">${first.lead}</p>
<h2>${first.importTitle}</h2>
<p>${first.importSays}</p>
<p><code>stanchion import FILE.json</code></p>
<h2>${first.formTitle}</h2>
${when(Object.keys(wrong).length > 0, () => said(texts.interval.fix, 'alert'))}
<form method="post" action="/workshop">${formToken(viewer)}
${field({ ...of('name', first.name, first.nameHint), isRequired: true, autocomplete: 'organization' })}
${choice({
  name: 'timeZone',
  label: first.timeZone,
  hint: first.timeZoneHint,
  wrong: wrong.timeZone,
  value: fields.timeZone ?? 'UTC',
  choices: zones.map((zone) => ({ value: zone, label: zone })),
})}
${daysField(viewer, openDays, wrong.openDays)}
${choice({ name: 'language', label: first.language, value: fields.language ?? 'en', choices: LANGUAGES })}
${field({ ...of('email', first.email, first.emailHint), type: 'email', autocomplete: 'email' })}
${field({ ...of('phone', first.phone, first.phoneHint), type: 'tel', autocomplete: 'tel' })}
<p><button>${first.submit}</button></p>
</form>`,
  });
}

/** 1 January 2024 was a Monday. */
const weekdayName = (day: Weekday, locale: string): string =>
  new Intl.DateTimeFormat(locale, { weekday: 'long', timeZone: 'UTC' }).format(
    Date.UTC(2024, 0, 1 + WEEKDAYS.indexOf(day)),
  );

const daysField = (
  { texts, words }: Viewer,
  openDays: readonly string[],
  wrong: string | undefined,
): Markup => html`
<fieldset class="field"${when(wrong !== undefined, () => html` aria-describedby="openDays-wrong"`)}>
<legend>${texts.first.openDays}</legend>
${WEEKDAYS.map(
  (day) => html`
<label class="tick"><input type="checkbox" name="openDays" value="${day}"${openDays.includes(day) ? html` checked` : ''}>${weekdayName(day, words.locale)}</label>`,
)}
${wrongNote({ name: 'openDays', wrong })}
</fieldset>`;
