import { html } from 'hono/html';
import { z } from 'zod';
import { getMailsPage, type ShownMail } from '../../flow/mail/mailsPage.js';
import { MAIL_STATES, type MailRow } from '../../ports/mails.js';
import { listLink } from '../cells/listLink.js';
import { nextStep } from '../cells/nextStep.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { choice, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';
import { aboutCell, nameOf, pathOfMail, stateCell, whenCell } from './mailCells.js';

const querySchema = z.object({ state: z.enum(MAIL_STATES).optional().catch(undefined) });

export function mailsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/mails', async (c) => {
    const viewer = c.get('viewer');
    const { state } = querySchema.parse(c.req.query());
    const { isEmpty, shown, left } = await store.read((tx) => getMailsPage(tx, state));
    const { mails } = viewer.texts;
    return c.html(
      page(viewer, {
        title: mails.title,
        current: 'mails',
        body: html`
<h1>${mails.title}</h1>
<p class="lead">${mails.lead}</p>
${when(!isEmpty, () => html`<p class="screen"><a href="/reminders">${mails.reminders.toReminders}</a></p>`)}
${isEmpty ? nextStep(mails.nothing, '/reminders', mails.reminders.toReminders) : html`${filter(viewer, state)}${mailTable(viewer, shown)}`}
${when(!isEmpty, () => listLink(viewer, 'mails', { state }))}
${when(left > 0, () => html`<p class="hint">${mails.left(left)}</p>`)}
${when(!isEmpty && shown.length === 0, () => html`<p>${mails.none}</p>`)}`,
      }),
    );
  });
}

const filter = ({ texts }: Viewer, state: MailRow['state'] | undefined): Markup => html`
<form class="row" method="get" action="/mails">
${choice({
  name: 'state',
  label: texts.mails.columns.state,
  value: state ?? '',
  choices: [
    { value: '', label: texts.mails.anyState },
    ...MAIL_STATES.map((one) => ({ value: one, label: texts.mails.state[one] })),
  ],
})}
<div class="field"><button>${texts.due.show}</button></div>
</form>`;

const mailTable = (viewer: Viewer, rows: readonly ShownMail[]): Markup => {
  const { columns } = viewer.texts.mails;
  if (rows.length === 0) return html``;
  return table(
    [columns.to, columns.about, columns.state, columns.when].map((label) => ({ label })),
    rows.map((mail) => ({
      head: html`<a href="${pathOfMail(mail)}">${nameOf(viewer, mail)}</a>`,
      cells: [aboutCell(viewer, mail), stateCell(viewer, mail), whenCell(viewer, mail)],
    })),
  );
};
