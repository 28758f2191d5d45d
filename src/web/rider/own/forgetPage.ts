import type { Context, Hono } from 'hono';
import { html } from 'hono/html';
import { forgetAll } from '../../../flow/carry/forgetAll.js';
import { calledNow } from '../../../flow/names.js';
import { riderTextsFor } from '../../../languages/index.js';
import { barePage } from '../../layout.js';
import { tick } from '../../markup.js';
import type { WebEnv } from '../../viewer.js';
import { voiceOf } from '../../viewer.js';
import type { Door, Doors } from '../answer.js';
import { fieldsOf } from '../forms.js';
import { fault, form, type RiderPage } from '../riderPage.js';
import { bothHomes, forgetOnDevice } from './device.js';

const page: RiderPage = {
  title: (texts) => texts.own.forget.title,
  show: async (_tx, { texts: { own } }) => html`
<p id="tells-forget"><strong>${own.forget.lead}</strong></p>
<ul>${own.forget.items.map((item) => html`<li>${item}</li>`)}</ul>
${form(html`${tick('sure', own.forget.sure, false)}<p><button class="grave" aria-describedby="tells-forget">${own.forget.submit}</button></p>`)}`,
  take: async (_tx, { texts: { own } }) => fault(own.forget.need),
};

const DOOR: Door = { purpose: 'page', page };

/** Adds the page on which a rider asks to be forgotten. It is done outside of one transaction: files go first. */
export function forgetPage(links: Hono<WebEnv>, doors: Doors): void {
  links.on('GET', bothHomes('/forget'), (c) => doors.answer(c, DOOR, null));
  links.on('POST', bothHomes('/forget'), async (c) => {
    const found = await doors.knock(c, DOOR, true);
    if ('closed' in found) return doors.shut(c, found);
    const fields = await fieldsOf(c);
    const { riderId, language } = found.contact;
    const { own } = riderTextsFor(language);
    if (found.isExpired || fields.sure !== 'yes')
      return found.isExpired
        ? doors.show(c, DOOR, null)
        : doors.back(c, DOOR, fault(own.forget.need), fields);
    const { forgetting } = doors.rider;
    const handle = await doors.deps.store.read((tx) => calledNow(tx, 'rider', riderId));
    if (handle !== undefined && forgetting.hasFolder(handle))
      return doors.back(c, DOOR, fault(own.forget.folder), fields);
    await forgetAll({ ...doors.deps, forgetting }, riderId);
    forgetOnDevice(c);
    return forgotten(c, language);
  });
}

const forgotten = (c: Context<WebEnv>, language: string): Response | Promise<Response> => {
  const { doneTitle, done } = riderTextsFor(language).own.forget;
  return c.html(barePage(voiceOf(language), doneTitle, html`<h1>${doneTitle}</h1><p>${done}</p>`));
};
