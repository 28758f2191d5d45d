import { html } from 'hono/html';
import { WORKSHOP } from '../../core/notices/notice/notice.js';
import type { ShownMail, ShownNotice } from '../../flow/mail/mailsPage.js';
import type { MailLine } from '../../ports/mails.js';
import { pathOfUnit, small } from '../cells/dueCells.js';
import { type Markup, when } from '../markup.js';
import { timeText } from '../show.js';
import type { Viewer } from '../viewer.js';

export const pathOfMail = ({ id }: MailLine): string => `/mails/${encodeURIComponent(id)}`;

export const stateCell = (viewer: Viewer, mail: ShownMail): Markup => {
  const { state } = viewer.texts.mails;
  const told =
    mail.state === 'refused' ? html`<strong>${state.refused}</strong>` : html`${state[mail.state]}`;
  return html`${told}${small(callText(viewer, mail))}`;
};

export const nameOf = ({ texts: { mails } }: Viewer, mail: ShownMail): string =>
  mail.to === WORKSHOP ? mails.workshop : (mail.contact?.name ?? mails.gone);

const callText = ({ texts: { mails } }: Viewer, mail: ShownMail): string | null =>
  mail.state === 'refused' && mail.to !== WORKSHOP ? mails.call(mail.contact?.phone ?? null) : null;

/** One that waits to be written tells of what was not withdrawn since, and once of what was decided again. */
function noticesTold({ state, isWritten, notices }: ShownMail): readonly ShownNotice[] {
  if (state !== 'waiting' || isWritten) return notices;
  const keyOf = (of: ShownNotice): string => `${of.unitId} ${of.serviceKind} ${of.state}`;
  const standing = notices.filter(({ withdrawnAt }) => withdrawnAt === null);
  return standing.filter((one, i) => standing.findIndex((other) => keyOf(other) === keyOf(one)) === i);
}

export const aboutCell = ({ texts: { mails }, words }: Viewer, mail: ShownMail): Markup =>
  html`${mails.kind[mail.mail]}${noticesTold(mail)
    .filter((notice) => notice.tag !== null)
    .map(
      ({ tag, serviceKind, state }) =>
        html`<small><a href="${pathOfUnit(tag!)}">${tag}</a> ${serviceKind === null ? '' : words.serviceKind(serviceKind)}${state === null ? '' : `, ${words.state[state]}`}</small>`,
    )}${when(mail.isMore, () => html`<small><a href="${pathOfMail(mail)}">${mails.andMore}</a></small>`)}`;

export function whenCell(viewer: Viewer, mail: ShownMail): Markup {
  const { mails } = viewer.texts;
  const next = timeText(mail.nextTryAt, viewer);
  const told =
    mail.state !== 'waiting'
      ? timeText(mail.settledAt ?? mail.queuedAt, viewer)
      : mail.tries === 0
        ? mails.goesOut(next)
        : mails.again(next, mails.tries(mail.tries));
  const isOpen = mail.state === 'waiting' && !mail.isWritten && mail.notices.length > 0;
  return html`${told}${small(isOpen ? mails.anew : null)}${small(mail.answer === null ? null : mails.relay(mail.answer))}`;
}
