import { html } from 'hono/html';
import { withoutTokens } from '../../core/links.js';
import { getMailPage } from '../../flow/mail/mailsPage.js';
import type { Mailbox, OutgoingMail } from '../../ports/mailer.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';
import { aboutCell, nameOf, stateCell, whenCell } from './mailCells.js';

/** What one mail said. */
export function mailPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/mails/:mail', async (c) => {
    const mail = await store.read((tx) => getMailPage(tx, c.req.param('mail')));
    return c.html(markup(c.get('viewer'), mail));
  });
}

function markup(viewer: Viewer, mail: Awaited<ReturnType<typeof getMailPage>>): Markup {
  const { mails } = viewer.texts;
  const { read, columns } = mails;
  const { written } = mail;
  const title = written?.subject ?? mails.kind[mail.mail];
  const facts: (readonly [string, Markup | string])[] = [
    [columns.to, written === null ? nameOf(viewer, mail) : boxText(written.to)],
    ...(written === null ? [] : [[read.from, boxText(written.from)] as const]),
    [columns.about, aboutCell(viewer, mail)],
    [columns.state, stateCell(viewer, mail)],
    [columns.when, whenCell(viewer, mail)],
  ];
  return page(viewer, {
    title,
    current: 'mails',
    body: html`
<h1>${title}</h1>
<p class="screen"><a href="/mails">${read.back}</a></p>
<dl class="facts">${facts.map(([name, told]) => html`<dt>${name}</dt><dd>${told}</dd>`)}</dl>
<h2>${read.title}</h2>
${written === null ? html`<p>${mail.state === 'waiting' ? read.notYet : read.nothing}</p>` : letter(viewer, written)}`,
  });
}

const boxText = ({ name, address }: Mailbox): Markup =>
  html`${name} <span class="long">&lt;${address}&gt;</span>`;

function letter({ texts: { mails } }: Viewer, { text, headers, attachments = [] }: OutgoingMail): Markup {
  const { read } = mails;
  // Whoever follows a rider's link is taken for the rider.
  const shown = withoutTokens(text);
  return html`
${when(shown !== text, () => html`<p class="lead">${read.noLinks}</p>`)}
<pre class="letter" lang="${headers['Content-Language'] ?? ''}">${shown}</pre>
${when(attachments.length > 0, () => html`<p>${read.attached(attachments.map(({ filename }) => filename).join(', '))}</p>`)}`;
}
