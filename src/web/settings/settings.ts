import type { Context } from 'hono';
import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import type { Fact, WorkshopFact } from '../../core/ledger/facts.js';
import type { Weights } from '../../core/ledger/ledger.js';
import { setWorkshop } from '../../flow/facts/setWorkshop.js';
import { getSettingsPage } from '../../flow/settings.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { NotTaken } from '../entryForm.js';
import { fieldsOf, valuesOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { choice, describedBy, field, type Markup, saidAfter, wrongNote } from '../markup.js';
import type { Pages } from '../routes.js';
import { byText, twoDecimals } from '../show.js';
import type { Fields } from '../taken.js';
import { type After, taken } from '../taken.js';
import type { Viewer, WebEnv } from '../viewer.js';
import {
  contactFields,
  daysField,
  languageField,
  nameField,
  type WorkshopForm,
  workshopSchema,
  wrongOf,
  zoneField,
} from './workshopForm.js';

/** What a workshop says of itself, each save a fact in the place of the one that was seen. */
export function settingsPage(pages: Pages, deps: WebDeps): void {
  const show = async (c: Context<WebEnv>, after: After, form?: WorkshopForm): Promise<Markup> => {
    const { fact, weights } = await deps.store.read(getSettingsPage);
    const shown = form ?? { fields: fieldsOfWorkshop(fact.body), openDays: fact.body.openDays, wrong: {} };
    return markup(c.get('viewer'), fact, weights, shown, after);
  };

  pages.get('/settings', async (c) =>
    c.html(await show(c, { fault: null, fields: {}, done: c.req.query('done') ?? null })),
  );

  pages.post('/settings', async (c) => {
    const viewer = c.get('viewer');
    const fields = await fieldsOf(c);
    const openDays = await valuesOf(c, 'openDays');
    const given = workshopSchema.safeParse({ ...EMPTY, ...fields, openDays });
    const wrong = given.success ? {} : wrongOf(viewer, given.error.issues);
    const work = async (): Promise<string> => {
      if (!given.success) throw new NotTaken(viewer.texts.interval.fix);
      const id = await change(deps, c, (tx, entry) => setWorkshop(tx, fields.fact ?? '', given.data, entry));
      return `/settings?done=${id === null ? 'unchanged' : 'saved'}`;
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
  digestHour: String(of.digestHour),
  noticeDays: String(of.noticeDays),
});

function markup(
  viewer: Viewer,
  fact: Fact<'workshop'>,
  weights: Weights,
  form: WorkshopForm,
  { fault, done }: After,
): Markup {
  const { texts, words, zone, today } = viewer;
  const { settings } = texts;
  const says: Readonly<Record<string, string>> = { saved: settings.saved, unchanged: settings.unchanged };
  const set = settings.lastSet(
    byText(viewer, fact.recordedBy),
    words.day(dayOf(fact.recordedAt, zone), today),
  );
  return page(viewer, {
    title: settings.title,
    current: 'settings',
    body: html`
<h1>${settings.title}</h1>
<p class="lead">${settings.lead}</p>
${saidAfter(fault, says[done ?? ''])}
<h2>${settings.workshopTitle}</h2>
<p class="soft">${set}</p>
${workshopForm(viewer, fact, form)}
<h2>${texts.benchSettings.title}</h2>
<p><a href="/settings/bench">${texts.benchSettings.link}</a></p>
<h2>${texts.team.accounts.title}</h2>
<p><a href="/settings/accounts">${texts.team.accounts.link}</a></p>
<h2>${settings.weightsTitle}</h2>
<p>${weightsText(viewer, weights)}</p>
<p><a href="/settings/weights">${settings.weights.change}</a></p>`,
  });
}

/** Returns what an hour weighs now, in a sentence. */
export const weightsText = (viewer: Viewer, { smooth, typical, rough }: Weights): string =>
  viewer.texts.settings.weights.now(
    twoDecimals(smooth, viewer),
    twoDecimals(typical, viewer),
    twoDecimals(rough, viewer),
  );

function workshopForm(viewer: Viewer, fact: Fact<'workshop'>, form: WorkshopForm): Markup {
  const { settings } = viewer.texts;
  const { fields, wrong } = form;
  // What a person saw, not what stands there by now: so two who change it at once collide visibly.
  const seen = fields.fact ?? fact.id;
  return html`
<form method="post" action="/settings">${formToken(viewer)}<input type="hidden" name="fact" value="${seen}">
${nameField(viewer, form)}
${contactFields(viewer, form)}
${addressField(viewer, form)}
${field({ name: 'openingHours', label: settings.openingHours, hint: settings.openingHoursHint, value: fields.openingHours, wrong: wrong.openingHours })}
${zoneField(viewer, form)}
${daysField(viewer, form, settings.openDaysHint)}
${choice({
  name: 'digestHour',
  label: settings.digestHour,
  hint: settings.digestHourHint,
  wrong: wrong.digestHour,
  value: fields.digestHour ?? '',
  choices: Array.from({ length: 24 }, (_, hour) => ({ value: String(hour), label: `${hour}:00` })),
})}
${field({ name: 'noticeDays', label: settings.noticeDays, hint: settings.noticeDaysHint, value: fields.noticeDays, wrong: wrong.noticeDays, inputmode: 'numeric', isShort: true, isRequired: true })}
${languageField(viewer, form, settings.languageHint)}
<p><button>${settings.save}</button></p>
</form>`;
}

function addressField({ texts: { settings } }: Viewer, { fields, wrong }: WorkshopForm): Markup {
  const of = { name: 'address', hint: settings.addressHint, wrong: wrong.address };
  return html`
<div class="field"><label for="address">${settings.address}</label>
<p class="hint" id="address-hint">${settings.addressHint}</p>
<textarea id="address" name="address" rows="4" autocomplete="street-address"${describedBy(of)}>${fields.address ?? ''}</textarea>
${wrongNote(of)}</div>`;
}
