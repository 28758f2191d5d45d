import { html } from 'hono/html';
import type { CallRow } from '../../flow/mail/listCalls.js';
import { formToken } from '../layout.js';
import { columnsOf, type Markup, table, when } from '../markup.js';
import type { Viewer } from '../viewer.js';
import { pathOfUnit, small } from './dueCells.js';

/** Somebody told the rider: no mail goes about it, and nobody has to call. */
export const toldForm = (viewer: Viewer, tag: string, serviceKind: string, next = ''): Markup => html`
<form class="inline" method="post" action="/reminders/${encodeURIComponent(tag)}/told">${formToken(viewer)}
<input type="hidden" name="kind" value="${serviceKind}">${when(next !== '', () => html`<input type="hidden" name="next" value="${next}">`)}
<button>${viewer.texts.mails.reminders.told}</button></form>`;

/** Whom to call, about what, and why no mail does it; until somebody says that they were told. */
export function callsTable(viewer: Viewer, calls: readonly CallRow[]): Markup {
  const { words, texts } = viewer;
  const { reminders, columns } = texts.mails;
  return table(
    columnsOf([columns.to, columns.about, reminders.told], [], [reminders.told]),
    calls.map(({ rider, phone, unit, serviceKind, state, reason }) => ({
      head: html`${rider}${small(phone ?? texts.leads.noPhone)}`,
      cells: [
        html`<a href="${pathOfUnit(unit)}">${unit}</a> ${words.serviceKind(serviceKind)}, ${words.state[state]}${small(words.callReason[reason])}`,
        toldForm(viewer, unit, serviceKind),
      ],
    })),
  );
}
