import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import { expiryFrom } from '../../core/links.js';
import { contactSeen } from '../../flow/counter/changeContact.js';
import type { RiderCall } from '../../flow/counter/riderPage.js';
import type { RiderBike, RiderUnit } from '../../flow/due/riderUnits.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { actButton } from '../cells/actButton.js';
import { toldForm } from '../cells/callsTable.js';
import { pathOfUnit, rideLink, small, stateCell } from '../cells/dueCells.js';
import { bikeFields, type TypedForm } from '../customer/bikeFields.js';
import { contactFields } from '../customer/contactFields.js';
import { formToken, page } from '../layout.js';
import { aboutCell, stateCell as mailState, pathOfMail, whenCell } from '../mails/mailCells.js';
import { columnsOf, type Markup, said, table, when } from '../markup.js';
import { likelyText } from '../show.js';
import type { Viewer } from '../viewer.js';
import { addressText } from './riders.js';

/** What was just done, or why it was not; a link is shown once. */
export interface RiderSaid {
  readonly done: string | null;
  readonly fault: string | null;
  readonly link: string | null;
}

/** What was typed into a form that was not taken. */
export interface RiderForms {
  readonly contact: TypedForm | null;
  readonly bike: TypedForm | null;
}

interface Shown {
  readonly handle: string;
  readonly view: RiderCall;
  readonly links: { readonly canMake: boolean; readonly canMail: boolean };
}

export function riderMarkup(
  viewer: Viewer,
  { handle, view, links }: Shown,
  { done, fault, link }: RiderSaid,
  forms: RiderForms,
): Markup {
  const { contact, bikes, asking } = view;
  const { customer, riders } = viewer.texts;
  const path = `/riders/${encodeURIComponent(handle)}`;
  const says: Readonly<Record<string, string>> = { ...riders.ownPage.said, ...customer.said };
  const told = says[done ?? ''];
  const part = (title: string, isOpen: boolean, body: Markup): Markup =>
    html`<details class="entry"${isOpen ? html` open` : ''}><summary><h2>${title}</h2></summary>${body}</details>`;
  return page(viewer, {
    title: contact.name,
    current: 'riders',
    body: html`
<h1>${contact.name}</h1>
${when(fault !== null, () => said(fault!, 'alert'))}
${when(told !== undefined, () => said(told!, done === 'unreachable' ? 'alert' : 'status'))}
${when(link !== null, () => madeLink(viewer, link!))}
${reach(viewer, view)}
${when(view.toTell.length > 0, () => toTell(viewer, view, path))}
${bikes.map((bike) => bikeMarkup(viewer, bike))}
${when(view.boxed.length > 0, () => html`<h2>${customer.box.title}</h2>${unitTable(viewer, view.boxed)}`)}
${when(bikes.length + view.boxed.length === 0, () => html`<p>${riders.noBike}</p>`)}
${when(
  bikes.some(({ units }) => units.length > 0),
  () => html`<p><a class="button" href="${path}/labels">${customer.print}</a></p>`,
)}
${when(asking > 0, () => html`<p><a href="/tray">${viewer.words.counted(asking, 'waiting')}</a></p>`)}
<h2>${customer.lastRides}</h2>
${rides(viewer, view)}
<p class="screen"><a href="${path}/history" download>${customer.historyCsv}</a></p>
<h2>${customer.lastMails}</h2>
${mails(viewer, view)}
${part(customer.change, forms.contact !== null, contactForm(viewer, path, view, forms.contact))}
${part(customer.addBike, forms.bike !== null, bikeForm(viewer, path, forms.bike))}
<p class="screen"><a href="/units/new?rider=${encodeURIComponent(handle)}">${customer.box.title}</a></p>
${part(riders.ownPage.title, link !== null, linkForms(viewer, path, links))}`,
  });
}

function reach(viewer: Viewer, { contact }: RiderCall): Markup {
  const { riders, customer } = viewer.texts;
  const { phone, email, note } = contact;
  return html`<dl class="facts">
<dt>${riders.ownPage.phone}</dt><dd>${phone === null ? riders.ownPage.noPhone : html`<a href="tel:${phone.replace(/[^\d+]/g, '')}">${phone}</a>`}</dd>
<dt>${riders.columns.address}</dt><dd class="long">${email ?? ''}${small(addressText(viewer, contact))}${small(contact.unsubscribedAt === null ? null : riders.stopped)}</dd>
<dt>${riders.columns.language}</dt><dd>${viewer.words.languageName(contact.language)}</dd>
${when(note !== null, () => html`<dt>${customer.note}</dt><dd class="note">${note}</dd>`)}
</dl>`;
}

/** What there is to say, each with the word that it was said by phone. */
const toTell = (viewer: Viewer, view: RiderCall, path: string): Markup => html`
<h2>${viewer.texts.customer.toTell}</h2>
${table(
  [viewer.texts.units.columns.unit, viewer.texts.units.columns.state, viewer.texts.customer.byPhone].map(
    (label) => ({ label }),
  ),
  view.toTell.map(({ tag, serviceKind, state }) => ({
    head: html`<a href="${pathOfUnit(tag)}">${tag}</a>${small(viewer.words.serviceKind(serviceKind))}`,
    cells: [stateCell(viewer, { state }), toldForm(viewer, tag, serviceKind, path)],
  })),
)}`;

const bikeMarkup = (viewer: Viewer, { bike, units }: RiderBike): Markup => html`
<h2><a href="/bikes/${encodeURIComponent(bike.handle)}">${bike.name}</a></h2>
${units.length === 0 ? html`<p>${viewer.texts.bike.noUnits}</p>` : unitTable(viewer, units)}`;

function unitTable(viewer: Viewer, units: readonly RiderUnit[]): Markup {
  const { customer, bike, units: says } = viewer.texts;
  const { unit, state, next } = says.columns;
  return table(
    columnsOf([unit, state, customer.hours, next, bike.columns.day], [customer.hours]),
    units.map((of) => ({ head: unitHead(viewer, of), cells: unitCells(viewer, of) })),
  );
}

const unitHead = ({ words, texts }: Viewer, { unit }: RiderUnit): Markup =>
  html`<a href="${pathOfUnit(unit.tag)}">${unit.tag}</a>${small(
    [words.unitKind[unit.unitKind], unit.model, unit.serial && `${texts.unit.serial} ${unit.serial}`]
      .filter((text) => text)
      .join(', '),
  )}`;

function unitCells(viewer: Viewer, { standings, lead, stopWhy }: RiderUnit): Markup[] {
  const { words, texts, today } = viewer;
  const [next] = standings;
  if (!next) return [html``, html``, html``, html``];
  const limit = next.interval.terrainHours;
  const since = words.measured(hoursOfThousandths(next.terrainMs));
  const { middle } = likelyText(next.likely, viewer);
  return [
    stateCell(viewer, { ...next, stopWhy }),
    html`<span class="nobr">${limit === null ? since : texts.due.of(since, words.hours(limit))}</span>${small(texts.customer.moving(words.measured(hoursOfSeconds(next.movingS))))}`,
    html`${words.serviceKind(next.serviceKind)}${small(middle)}`,
    html`${lead === null ? '' : words.weekday(lead.day, today)}${small(lead === null ? null : texts.customer.dayState[lead.state === 'booked' ? 'booked' : 'asked'])}`,
  ];
}

function rides(viewer: Viewer, { rides: rows, bikes }: RiderCall): Markup {
  const { texts, words } = viewer;
  const names = new Map(bikes.map(({ bikeId, bike }) => [bikeId, bike.name]));
  if (rows.length === 0) return html`<p>${texts.customer.noRides}</p>`;
  return table(
    columnsOf(
      [texts.bike.columns.day, texts.bike.columns.moving, texts.riders.bike],
      [texts.bike.columns.moving],
    ),
    rows.map((ride) => ({
      head: rideLink(viewer, ride),
      cells: [
        html`${words.measured(hoursOfSeconds(ride.movingS))}`,
        html`${names.get(ride.bikeId ?? '') ?? ''}`,
      ],
    })),
  );
}

function mails(viewer: Viewer, { mails: rows }: RiderCall): Markup {
  const { columns, nothing } = viewer.texts.mails;
  if (rows.length === 0) return html`<p>${nothing}</p>`;
  return table(
    [columns.about, columns.state, columns.when].map((label) => ({ label })),
    rows.map((mail) => ({
      head: html`<a href="${pathOfMail(mail)}">${aboutCell(viewer, mail)}</a>`,
      cells: [mailState(viewer, mail), whenCell(viewer, mail)],
    })),
  );
}

function contactForm(viewer: Viewer, path: string, { contact }: RiderCall, typed: TypedForm | null): Markup {
  const { customer } = viewer.texts;
  const { name, phone, email, language, note } = contact;
  const now = { name, phone: phone ?? '', email: email ?? '', language, note: note ?? '' };
  const form: TypedForm = typed ?? { fields: now, wrong: {} };
  // What a person saw, not what stands there by now: so two who change it at once collide visibly.
  const seen = form.fields.seen ?? contactSeen(contact);
  return html`<form method="post" action="${path}/contact">${formToken(viewer)}
<input type="hidden" name="seen" value="${seen}">
${contactFields(viewer, form)}
<div class="field"><label for="note">${customer.note}</label><p class="hint">${customer.noteHint}</p>
<textarea id="note" name="note" rows="4">${form.fields.note ?? ''}</textarea></div>
<p><button>${customer.saveContact}</button></p></form>`;
}

const bikeForm = (viewer: Viewer, path: string, typed: TypedForm | null): Markup => html`
<form method="post" action="${path}/bikes">${formToken(viewer)}
${bikeFields(viewer, typed ?? { fields: {}, wrong: {} })}
<p><button>${viewer.texts.customer.saveBike}</button></p></form>`;

function madeLink({ texts: { riders }, words, now, zone, today }: Viewer, link: string): Markup {
  const until = words.day(dayOf(expiryFrom(now), zone), today);
  return html`<div class="said" role="status"><p>${riders.ownPage.made(until)}</p>
<p><a class="long" href="${link}" rel="noreferrer">${link.startsWith('http') ? link : riders.ownPage.open}</a></p></div>`;
}

function linkForms(viewer: Viewer, path: string, { canMake, canMail }: Shown['links']): Markup {
  const { ownPage } = viewer.texts.riders;
  const form = (name: string, label: string): Markup =>
    html`<form method="post" action="${path}/${name}">${formToken(viewer)}<button>${label}</button></form>`;
  return html`<p class="lead">${ownPage.lead}</p>${when(
    canMake,
    () => html`<div class="row">${form('link', ownPage.make)}${when(canMail, () => form('mail', ownPage.mail))}</div>
${when(!canMail, () => html`<p class="soft">${ownPage.noAddress}</p>`)}
<h3>${ownPage.revokeTitle}</h3>
<form method="post" action="${path}/revoke">${formToken(viewer)}${actButton({ id: 'revoke', label: ownPage.revoke, tells: ownPage.revokeLead, look: 'grave' })}</form>`,
  )}`;
}
