import { html } from 'hono/html';
import { z } from 'zod';
import { WORKSHOP } from '../../core/notice.js';
import { type Contact, MAIL_STATES, type MailRow, type NoticeRow, type Tx } from '../../ports.js';
import type { WebDeps } from '../deps.js';
import { pathOfUnit, small } from '../dueCells.js';
import { page } from '../layout.js';
import { choice, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { timeText } from '../show.js';
import type { Viewer } from '../viewer.js';

const MOST_SHOWN = 100;
const querySchema = z.object({ state: z.enum(MAIL_STATES).optional().catch(undefined) });

type ShownNotice = NoticeRow & { readonly tag: string | null };
interface ShownMail extends MailRow {
  readonly contact: Contact | undefined;
  readonly notices: readonly ShownNotice[];
}

export function mailsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/mails', async (c) => {
    const viewer = c.get('viewer');
    const { state } = querySchema.parse(c.req.query());
    const { all, shown } = await store.read((tx) => listShown(tx, state));
    const { mails } = viewer.texts;
    return c.html(
      page(viewer, {
        title: mails.title,
        current: 'mails',
        body: html`
<h1>${mails.title}</h1>
<p class="lead">${mails.lead}</p>
${all === 0 ? html`<p>${mails.nothing}</p>` : html`${filter(viewer, state)}${mailTable(viewer, shown)}`}
${when(all > 0 && shown.length === 0, () => html`<p>${mails.none}</p>`)}`,
      }),
    );
  });
}

/** Waiting ones first, in the order they go out; then the latest settled. */
async function listShown(tx: Tx, state: MailRow['state'] | undefined) {
  const all = await tx.mails.list();
  const at = (mail: MailRow): number => mail.settledAt ?? mail.queuedAt;
  const rank = (mail: MailRow): number => (mail.state === 'waiting' ? 0 : 1);
  const chosen = all
    .filter((mail) => state === undefined || mail.state === state)
    .sort((a, b) => rank(a) - rank(b) || (rank(a) === 0 ? a.nextTryAt - b.nextTryAt : at(b) - at(a)))
    .slice(0, MOST_SHOWN);
  const tags = await tx.handles.all('unit');
  const shown: ShownMail[] = [];
  for (const mail of chosen) {
    const notices = (await tx.notices.listOfMail(mail.id)).map((notice) => ({
      ...notice,
      tag: notice.unitId === null ? null : (tags.get(notice.unitId) ?? null),
    }));
    const contact = mail.to === WORKSHOP ? undefined : await tx.contacts.find(mail.to);
    shown.push({ ...mail, contact, notices });
  }
  return { all: all.length, shown };
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
  const { columns, state } = viewer.texts.mails;
  if (rows.length === 0) return html``;
  return table(
    [columns.to, columns.about, columns.state, columns.when].map((label) => ({ label })),
    rows.map((mail) => ({
      head: html`<b>${nameOf(viewer, mail)}</b>`,
      cells: [
        aboutCell(viewer, mail),
        html`${mail.state === 'refused' ? html`<strong>${state.refused}</strong>` : state[mail.state]}${small(callText(viewer, mail))}`,
        whenCell(viewer, mail),
      ],
    })),
  );
};

const nameOf = ({ texts: { mails } }: Viewer, mail: ShownMail): string =>
  mail.to === WORKSHOP ? mails.workshop : (mail.contact?.name ?? mails.gone);

const callText = ({ texts: { mails } }: Viewer, mail: ShownMail): string | null =>
  mail.state === 'refused' && mail.to !== WORKSHOP ? mails.call(mail.contact?.phone ?? null) : null;

const aboutCell = ({ texts: { mails }, words }: Viewer, mail: ShownMail): Markup =>
  html`${mails.kind[mail.mail]}${mail.notices
    .filter((notice) => notice.tag !== null)
    .map(
      ({ tag, serviceKind, state }) =>
        html`<small><a href="${pathOfUnit(tag!)}">${tag}</a> ${serviceKind === null ? '' : words.serviceKind(serviceKind)}${state === null ? '' : `, ${words.state[state]}`}</small>`,
    )}`;

function whenCell(viewer: Viewer, mail: ShownMail): Markup {
  const { mails } = viewer.texts;
  const next = timeText(mail.nextTryAt, viewer);
  const told =
    mail.state !== 'waiting'
      ? timeText(mail.settledAt ?? mail.queuedAt, viewer)
      : mail.tries === 0
        ? mails.goesOut(next)
        : mails.again(next, mails.tries(mail.tries));
  return html`${told}${small(mail.answer === null ? null : mails.relay(mail.answer))}`;
}
