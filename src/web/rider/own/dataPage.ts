import { html } from 'hono/html';
import type { ServiceKind } from '../../../core/tokens.js';
import { getHeld, type HeldOfRider } from '../../../flow/own/held.js';
import { columnsOf, type Markup, NOTHING, table, when } from '../../markup.js';
import { fault, type RiderPage, type RiderView } from '../riderPage.js';
import { unitName } from './cells.js';

/** All that is held of a rider, to read; links get passed on, so that it says of address and phone only whether they are known. */
export const dataPage: RiderPage = {
  title: (texts) => texts.own.data.title,
  show: async (tx, view) => {
    const held = await getHeld(tx, view.opened.contact.riderId);
    const { data, mails } = view.texts.own;
    return html`<p class="lead">${data.lead}</p>
<h2>${data.you}</h2>
${youMarkup(view)}
<h2>${data.bikes}</h2>
<ul>${held.bikes.map((bike) => html`<li>${bike.name}, ${view.voice.words.bikeType[bike.type]}${when(Boolean(bike.sold), () => html`, ${data.sold}`)}</li>`)}</ul>
${when(
  held.units.length > 0,
  () =>
    html`<ul>${held.units.map((unit) => html`<li>${unitName(view, unit)}${unit.model === null ? '' : `, ${unit.model}`}${unit.serial === null ? '' : `, ${unit.serial}`}</li>`)}</ul>`,
)}
${historyMarkup(view, held)}
${filesMarkup(view, held)}
${mailsMarkup(view, held)}
${bookingsMarkup(view, held)}
<h2>${data.read}</h2><p>${data.readLead}</p>
<form method="post" action="${view.home}/data"><div class="field"><button>${mails.export}</button></div></form>`;
  },
  take: async (_tx, { texts }) => fault(texts.own.data.lead),
};

function youMarkup({ texts: { own }, voice: { words }, opened: { contact } }: RiderView): Markup {
  const { data } = own;
  const known = (is: boolean): string => (is ? data.known : data.unknown);
  const lines: readonly (readonly [string, string])[] = [
    [data.name, known(contact.name !== '')],
    [data.mail, contact.confirmedAt === null ? known(contact.email !== null) : data.confirmed],
    [data.phone, known((contact.phone ?? '') !== '')],
    [own.mails.language, words.name],
    [own.mails.remindersTitle, contact.unsubscribedAt === null ? data.on : data.off],
  ];
  return html`<dl class="facts">${lines.map(([label, says]) => html`<dt>${label}</dt><dd>${says}</dd>`)}</dl>`;
}

/** A list that is folded until somebody wants it. */
const folded = ({ texts }: RiderView, title: string, shown: number, all: number, body: Markup): Markup =>
  all === 0
    ? NOTHING
    : html`<details class="entry"><summary><h2>${title} (${all})</h2></summary>${when(shown < all, () => html`<p class="soft">${texts.own.data.cut(shown)}</p>`)}${body}</details>`;

function historyMarkup(view: RiderView, { history, counts }: HeldOfRider): Markup {
  const { history: says } = view.texts.own;
  const { words } = view.voice;
  const text = (value: unknown): string => (typeof value === 'string' ? value : '');
  const rows = history.map((row) => {
    const what = says.what[row.what as keyof typeof says.what] ?? text(row.what);
    const job = row.serviceKind ? `: ${words.serviceKind(text(row.serviceKind) as ServiceKind)}` : '';
    const hours = typeof row.movingHours === 'number' ? words.measured(row.movingHours) : '';
    return {
      head: html`<b>${row.on ? words.day(text(row.on) as RiderView['today'], view.today) : ''}</b>`,
      cells: [
        html`${what}${job}`,
        html`${[text(row.bike), text(row.unit)].filter(Boolean).join(', ')}`,
        html`${hours}`,
      ],
    };
  });
  const { on, what, bike, movingHours } = says.columns;
  const columns = columnsOf([on, what, bike, movingHours], [movingHours]);
  return folded(view, says.title, rows.length, counts.history, table(columns, rows));
}

function filesMarkup(view: RiderView, { files, counts }: HeldOfRider): Markup {
  const { files: says, data } = view.texts.own;
  const rows = files.map(({ name, day, outcome, code }) => ({
    head: html`<span class="long">${name}</span>`,
    cells: [
      html`${day === null ? '' : view.voice.words.day(day, view.today)}`,
      html`${outcome === 'ride' ? data.ride : (says.why[code ?? ''] ?? says.said[outcome])}`,
    ],
  }));
  const columns = [says.columns.file, data.came, says.columns.answer].map((label) => ({ label }));
  return folded(view, data.files, rows.length, counts.files, table(columns, rows));
}

function mailsMarkup(view: RiderView, { mails, counts }: HeldOfRider): Markup {
  const { mails: says } = view.voice.texts;
  const rows = mails.map(({ mail, day, state, subject }) => ({
    head: html`<b>${view.voice.words.day(day, view.today)}</b>`,
    cells: [html`${subject ?? says.kind[mail]}`, html`${says.state[state]}`],
  }));
  const columns = [says.columns.when, says.columns.about, says.columns.state].map((label) => ({ label }));
  return folded(view, says.title, rows.length, counts.mails, table(columns, rows));
}

function bookingsMarkup(view: RiderView, { bookings }: HeldOfRider): Markup {
  const { data } = view.texts.own;
  const { words } = view.voice;
  const rows = bookings.map(({ unit, serviceKind, state, day }) => ({
    head: html`<b>${day === null ? data.noDay : words.day(day, view.today)}</b>`,
    cells: [html`${unitName(view, unit)}, ${words.serviceKind(serviceKind)}`, html`${data.states[state]}`],
  }));
  const columns = [data.day, data.job, data.state].map((label) => ({ label }));
  return folded(view, data.bookings, rows.length, rows.length, table(columns, rows));
}
