import { html } from 'hono/html';
import { setBegun } from '../../flow/begin.js';
import { sayTold } from '../../flow/mail/listCalls.js';
import {
  type ComingMail,
  getPreview,
  getRemindersPage,
  type RemindersPage,
} from '../../flow/mail/remindersPage.js';
import { getIdOf } from '../../flow/names.js';
import { callsTable, toldForm } from '../cells/callsTable.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { badAnswers } from '../cells/homeCells.js';
import { nextStep } from '../cells/nextStep.js';
import { change } from '../change.js';
import type { WebDeps } from '../deps.js';
import { fieldsOf } from '../guard.js';
import { formToken, page } from '../layout.js';
import { type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { onwardPath } from '../signIn/signIn.js';
import type { Viewer } from '../viewer.js';

/** Whether reminders go, what would go before they do, and what waits behind a day's most. */
export function remindersPage(pages: Pages, deps: WebDeps): void {
  pages.get('/reminders', async (c) => {
    const viewer = c.get('viewer');
    const view = await deps.store.read((tx) => getRemindersPage(tx, viewer.now));
    return c.html(markup(viewer, view));
  });

  pages.post('/reminders', async (c) => {
    const { begin } = await fieldsOf(c);
    await change(deps, c, (tx, entry) => setBegun(tx, begin === 'yes', entry));
    return c.redirect('/reminders', 303);
  });

  pages.post('/reminders/:tag/told', async (c) => {
    const { kind = '', next } = await fieldsOf(c);
    const tag = c.req.param('tag');
    await change(deps, c, async (tx, entry) => sayTold(tx, await getIdOf(tx, 'unit', tag), kind, entry));
    return c.redirect(next === undefined ? '/reminders' : onwardPath(next), 303);
  });

  pages.get('/reminders/:handle', async (c) => {
    const viewer = c.get('viewer');
    const { writer } = deps;
    const mail = await deps.store.read((tx) =>
      getPreview(tx, c.req.param('handle'), writer ?? null, viewer.now),
    );
    const { reminders } = viewer.texts.mails;
    const title = mail?.subject ?? reminders.nothing;
    return c.html(
      page(viewer, {
        title,
        current: 'calls',
        body: html`
<h1>${title}</h1>
<p class="screen"><a href="/reminders">${reminders.title}</a></p>
${mail === null ? html`<p>${reminders.none}</p>` : html`<p class="soft">${reminders.preview}</p><pre class="letter" lang="${mail.headers['Content-Language'] ?? ''}">${mail.text}</pre>`}`,
      }),
    );
  });
}

function markup(viewer: Viewer, view: RemindersPage): Markup {
  const { reminders } = viewer.texts.mails;
  const { words, today } = viewer;
  const since = view.from === null ? '' : reminders.since(words.day(view.from, today));
  return page(viewer, {
    title: reminders.title,
    current: 'calls',
    body: html`
<h1>${reminders.title}</h1>
<p class="lead">${view.hasBegun ? since : reminders.notBegun}</p>
${badAnswers(viewer, view.bad)}
${when(view.calls.length > 0, () => html`<h2>${reminders.calls(view.calls.length)}</h2>${callsTable(viewer, view.calls)}`)}
${when(!view.hasBegun, () => html`<h2>${reminders.would(view.coming.length)}</h2>${mailsTable(viewer, view.coming)}`)}
${when(view.behind.length > 0, () => html`<h2>${reminders.behind(view.behind.length)}</h2><p>${reminders.behindLead}</p>${mailsTable(viewer, view.behind)}`)}
${when(viewer.account.role === 'owner', () => switchForm(viewer, view.hasBegun))}`,
  });
}

function mailsTable(viewer: Viewer, mails: readonly ComingMail[]): Markup {
  const { reminders, columns } = viewer.texts.mails;
  if (mails.length === 0) return nextStep(reminders.noneYet, '/due', viewer.texts.today.allDue, 'button');
  return table(
    [columns.to, columns.about, reminders.read].map((label) => ({ label })),
    mails.map(({ handle, rider, items }) => ({
      head: html`<a href="/riders/${encodeURIComponent(handle)}">${rider}</a>`,
      cells: [
        html`${items.map((item) => itemMarkup(viewer, item))}`,
        html`<a href="/reminders/${encodeURIComponent(handle)}">${reminders.read}</a>`,
      ],
    })),
  );
}

const itemMarkup = (viewer: Viewer, { tag, serviceKind, state }: ComingMail['items'][number]): Markup => {
  const { words, texts } = viewer;
  return serviceKind === null || state === null
    ? html`<small>${texts.mails.kind['confirm-address']}</small>`
    : html`<small><a href="${pathOfUnit(tag)}">${tag}</a> ${words.serviceKind(serviceKind)}, ${words.state[state]}</small>${toldForm(viewer, tag, serviceKind)}`;
};

function switchForm(viewer: Viewer, hasBegun: boolean): Markup {
  const { reminders } = viewer.texts.mails;
  return html`
<form method="post" action="/reminders">${formToken(viewer)}
<input type="hidden" name="begin" value="${hasBegun ? 'no' : 'yes'}">
<p>${hasBegun ? reminders.restHint : reminders.beginHint}</p>
<p><button${hasBegun ? '' : html` class="primary"`}>${hasBegun ? reminders.rest : reminders.begin}</button></p>
</form>`;
}
