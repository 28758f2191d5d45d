import type { Context } from 'hono';
import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import type { Fact, WorkshopFact } from '../../core/ledger/facts.js';
import { setWorkshop } from '../../flow/facts/setWorkshop.js';
import { findWorkshop } from '../../flow/settings.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf, valuesOf } from '../guard.js';
import { describedBy, type Markup, wrongNote } from '../markup.js';
import type { Pages } from '../routes.js';
import { byText } from '../show.js';
import { type After, afterQuery, type Fields, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import { seenFact, settingFrame } from './frame.js';
import {
  contactFields,
  daysField,
  languageField,
  nameField,
  openingHoursField,
  type WorkshopForm,
  workshopSchema,
  wrongOf,
  zoneField,
} from './workshopForm.js';

const PATH = '/settings/workshop';

/** How the workshop is called and reached, where it is and when it is open. */
export function workshopPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After, form?: WorkshopForm): Promise<Markup> => {
    const fact = (await deps.store.read(findWorkshop))!;
    const shown = form ?? { fields: fieldsOfWorkshop(fact.body), openDays: fact.body.openDays, wrong: {} };
    return markup(c.get('viewer'), fact, shown, after);
  };
  pages.get(PATH, async (c) => c.html(await show(c, afterQuery(c))));

  pages.post(PATH, async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const openDays = await valuesOf(c, 'openDays');
    const given = workshopSchema.safeParse({ ...EMPTY, ...fields, openDays });
    const wrong = given.success ? {} : wrongOf(viewer, given.error.issues);
    const work = async (): Promise<string> => {
      if (!given.success) throw new NotTaken(viewer.texts.interval.fix);
      const id = await change(deps, c, (tx, entry) => setWorkshop(tx, fields.fact ?? '', given.data, entry));
      return `${PATH}?done=${id === null ? 'unchanged' : 'saved'}`;
    };
    return taken(c, fields, work, (after) => show(c, after, { fields, openDays, wrong }));
  });
}

const EMPTY = { email: '', phone: '', address: '', openingHours: '' };

const fieldsOfWorkshop = (of: WorkshopFact): Fields => ({
  name: of.name,
  timeZone: of.timeZone,
  language: of.language,
  email: of.email ?? '',
  phone: of.phone ?? '',
  address: of.address ?? '',
  openingHours: of.openingHours ?? '',
});

function markup(viewer: Viewer, fact: Fact<'workshop'>, form: WorkshopForm, after: After): Markup {
  const { texts, words, zone, today } = viewer;
  const { settings } = texts;
  const set = settings.lastSet(
    byText(viewer, fact.recordedBy),
    words.day(dayOf(fact.recordedAt, zone), today),
  );
  return settingFrame(viewer, {
    ...{ title: settings.workshopTitle, lead: settings.workshopLead, after },
    body: html`
<p class="soft">${set}</p>
<form method="post" action="${PATH}">${seenFact(viewer, fact, { fields: after.fields })}
${nameField(viewer, form)}
${contactFields(viewer, form)}
${addressField(viewer, form)}
${openingHoursField(viewer, form)}
${zoneField(viewer, form)}
${daysField(viewer, form, settings.openDaysHint)}
${languageField(viewer, form, settings.languageHint)}
<p><button class="primary">${settings.save}</button></p>
</form>`,
  });
}

function addressField({ texts: { settings } }: Viewer, { fields, wrong }: WorkshopForm): Markup {
  const of = { name: 'address', hint: settings.addressHint, wrong: wrong.address };
  return html`
<div class="field"><label for="address">${settings.address}</label>
<p class="hint" id="address-hint">${settings.addressHint}</p>
<textarea id="address" name="address" rows="4" autocomplete="street-address"${describedBy(of)}>${fields.address ?? ''}</textarea>
${wrongNote(of)}</div>`;
}
