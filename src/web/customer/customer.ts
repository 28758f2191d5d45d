import type { Context } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { addCustomer } from '../../flow/counter/addCustomer.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { type Markup, said, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { bikeFaults, bikeFields, bikeShape, type TypedForm, unitsIn } from './bikeFields.js';
import { contactFields, contactShape } from './contactFields.js';

const FORM_ID = /^[0-9a-f]{32}$/;
/** Rider, bike, units and since when, in one form. */
export function customerPage(pages: Pages, deps: WebDeps): void {
  const formId = (): string => deps.ids.uuid().replaceAll('-', '');
  // Links stand in mails only where there is an address for them.
  const askBy = deps.publicUrl !== null && deps.rider ? deps.rider.ids : null;

  pages.get('/customers/new', (c) =>
    c.html(
      markup(
        c.get('viewer'),
        { fields: { form: formId(), name: c.req.query('name') ?? '' }, wrong: {} },
        null,
      ),
    ),
  );

  pages.post('/customers/new', async (c: Context<WebEnv>) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const schema = z.object({ form: z.string().regex(FORM_ID), ...contactShape, ...bikeShape(viewer.today) });
    const given = schema.safeParse(fields);
    const wrong = given.success ? {} : bikeFaults(viewer, given.error.issues);
    const work = async (): Promise<string> => {
      if (!given.success) throw new NotTaken(viewer.texts.interval.fix);
      const { form, bike, type, since, name, phone, email, language } = given.data;
      const added = await change(deps, c, (tx, entry) =>
        addCustomer(
          tx,
          {
            ...{ formId: form, name, phone, email, language, since },
            bike: { name: bike, type },
            units: unitsIn(given.data),
          },
          entry,
          askBy,
        ),
      );
      return `/riders/${encodeURIComponent(added.handle)}?done=${added.isAsked ? 'newAsked' : 'new'}`;
    };
    return taken(c, fields, work, async ({ fault }) =>
      markup(viewer, { fields: { ...fields, form: fields.form || formId() }, wrong }, fault),
    );
  });
}

function markup(viewer: Viewer, form: TypedForm, fault: string | null): Markup {
  const { customer } = viewer.texts;
  return page(viewer, {
    title: customer.title,
    current: 'riders',
    body: html`
<h1>${customer.title}</h1>
<p class="lead">${customer.lead}</p>
${when(fault !== null, () => said(fault!, 'alert'))}
<form method="post" action="/customers/new" class="wide">${formToken(viewer)}
<input type="hidden" name="form" value="${form.fields.form ?? ''}">
<h2>${customer.rider}</h2>
${contactFields(viewer, form)}
<h2>${customer.bikeTitle}</h2>
${bikeFields(viewer, form)}
<p><button class="primary">${customer.save}</button></p>
</form>`,
  });
}
