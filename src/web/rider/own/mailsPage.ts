import { html } from 'hono/html';
import { setLanguage, setStopped } from '../../../flow/mail/answerLink.js';
import { LANGUAGES, riderTextsFor, wordsFor } from '../../../languages/index.js';
import { choice, type Markup } from '../../markup.js';
import { stopForm } from '../mailPages.js';
import { done, fault, form, type RiderPage, submit } from '../riderPage.js';
import { mailInForms, takeMailIn } from './mailIn.js';

/** Reminders, language, and what is held of the rider: to take along or to be forgotten. */
export const mailsPage: RiderPage = {
  title: (texts) => texts.own.mails.title,
  staysOpen: true,
  show: async (tx, view) => {
    const { texts, opened, home, voice, keptMonths } = view;
    const { contact } = opened;
    const { own, stop } = texts;
    const { mails } = own;
    const reminders: Markup =
      contact.unsubscribedAt === null
        ? html`<p>${stop.lead}</p>${stopForm('stop', stop.submit)}`
        : html`<p>${stop.stopped}</p>${stopForm('again', stop.again)}`;
    return html`
<h2>${mails.remindersTitle}</h2>
${reminders}
${await mailInForms(tx, view)}
<h2>${mails.language}</h2>
${form(html`<input type="hidden" name="action" value="language">
${choice({
  name: 'language',
  label: mails.language,
  hint: mails.languageLead,
  value: voice.words.language,
  choices: LANGUAGES.map((value) => ({ value, label: wordsFor(value).name })),
})}
${submit(mails.saveLanguage)}`)}
<h2>${mails.dataTitle}</h2>
<p>${mails.dataLead(keptMonths)}</p>
<p><a class="button" href="${home}/data">${own.data.link}</a></p>
<form method="post" action="${home}/data">${submit(mails.export)}</form>
<h2>${own.history.title}</h2>
<p>${own.history.lead}</p>
<form method="post" action="${home}/history">${submit(own.history.submit)}</form>
<h2>${own.device.title}</h2>
<p>${own.device.lead}</p>
<form method="get" action="/r/own/"><div class="field"><button>${own.device.open}</button></div></form>
<form method="post" action="${home}/device"><div class="field"><button>${own.device.forget}</button></div></form>
<h2>${mails.forgetTitle}</h2>
<p>${mails.forgetLead}</p>
<p><a class="button" href="${home}/forget">${mails.forgetLink}</a></p>`;
  },
  take: async (tx, view, fields) => {
    const { texts, opened, now } = view;
    const { contact } = opened;
    const { action, language } = fields;
    const { stop } = texts;
    const said = await takeMailIn(tx, view, fields);
    if (said !== null) return said;
    if (action === 'stop' || action === 'again') {
      await setStopped(tx, contact, action === 'stop', now);
      return done(action === 'stop' ? stop.stopped : stop.on);
    }
    const chosen = LANGUAGES.find((one) => one === language);
    if (action !== 'language' || chosen === undefined) return fault(texts.own.mails.languageLead);
    await setLanguage(tx, contact, chosen);
    return done(riderTextsFor(chosen).own.mails.languageSaved);
  },
};
