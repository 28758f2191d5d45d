import { html } from 'hono/html';
import { createWorkshop } from '../../flow/facts/createWorkshop.js';
import { writeAsAllowed } from '../change.js';
import type { WebDeps } from '../deps.js';
import { fieldsOf, valuesOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { type Markup, said, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';
import {
  contactFields,
  daysField,
  languageField,
  nameField,
  newWorkshopSchema,
  openingHoursField,
  type WorkshopForm,
  wrongOf,
  zoneField,
} from './workshopForm.js';

/** The page that stands in place of all others until there is a workshop. */
export function firstPage(pages: Pages, deps: WebDeps): void {
  pages.get('/workshop', (c) => {
    const viewer = c.get('viewer');
    if (viewer.workshop !== null) return c.redirect('/', 303);
    const openDays = ['tue', 'wed', 'thu', 'fri', 'sat'];
    const { timeZone } = new Intl.DateTimeFormat().resolvedOptions();
    const fields = { timeZone, language: viewer.words.language };
    return c.html(show(viewer, { fields, openDays, wrong: {} }));
  });

  pages.post('/workshop', async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const openDays = await valuesOf(c, 'openDays');
    const given = newWorkshopSchema.safeParse({
      email: '',
      phone: '',
      openingHours: '',
      ...fields,
      openDays,
    });
    if (!given.success) {
      const wrong = wrongOf(viewer, given.error.issues);
      return c.html(show(viewer, { fields, openDays, wrong }), 422);
    }
    await writeAsAllowed(deps, c, (tx, entry) => createWorkshop(tx, given.data, entry));
    return c.redirect('/', 303);
  });
}

function show(viewer: Viewer, form: WorkshopForm): Markup {
  const { texts } = viewer;
  const { first } = texts;
  return page(viewer, {
    title: first.title,
    body: html`
<h1>${first.title}</h1>
<p class="lead">${first.lead}</p>
${when(Object.keys(form.wrong).length > 0, () => said(texts.interval.fix, 'alert'))}
<form method="post" action="/workshop">${formToken(viewer)}
${nameField(viewer, form)}
${zoneField(viewer, form)}
${daysField(viewer, form)}
${openingHoursField(viewer, form)}
${languageField(viewer, form)}
${contactFields(viewer, form)}
<p><button class="primary">${first.submit}</button></p>
</form>
<p>${first.formSays}</p>
<h2>${first.importTitle}</h2>
<p>${first.importSays}</p>
<p><code>stanchion import FILE.json</code></p>`,
  });
}
