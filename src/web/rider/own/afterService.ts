import { html } from 'hono/html';
import { type AskedService, findAskedService, sayAfterService } from '../../../flow/own/afterService.js';
import type { Tx } from '../../../ports/store.js';
import { lineSchema } from '../../entryForm.js';
import { field, type Markup, NOTHING } from '../../markup.js';
import type { Fields } from '../../taken.js';
import { done, fault, form, type PageSaid, type RiderView, submit } from '../riderPage.js';

/** Asks whether all is well since a service; nothing where there is nothing to ask. */
export function afterServiceForm(view: RiderView, asked: AskedService | null): Markup {
  if (asked === null) return NOTHING;
  const { after: says } = view.texts.own;
  const { words } = view.voice;
  return html`<section class="entry"><h2>${says.title}</h2>
<p>${says.ask(words.serviceKind(asked.serviceKind), words.day(asked.on, view.today))}</p>
${form(html`<input type="hidden" name="say" value="well">${submit(says.well)}`)}
${form(html`<input type="hidden" name="say" value="wrong">${field({ name: 'what', label: says.what, value: view.sent.what ?? '', isRequired: true })}${submit(says.wrong)}`)}
<p class="soft">${says.stop}</p></section>`;
}

/** Takes the answer; it is asked again only after the next service. */
export async function takeAfterService(
  tx: Tx,
  view: RiderView,
  unitId: string,
  fields: Fields,
): Promise<PageSaid> {
  const { after: says } = view.texts.own;
  const asked = await findAskedService(tx, unitId, view.now);
  if (asked === null) return fault(says.answered);
  if (fields.say === 'well') {
    await sayAfterService(tx, asked, null, view.entry);
    return done(says.thanks);
  }
  const what = lineSchema.safeParse(fields.what ?? '');
  if (!what.success || what.data === '') return fault(says.needWhat);
  await sayAfterService(tx, asked, what.data, view.entry);
  return done(says.told);
}
