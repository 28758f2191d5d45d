import { html } from 'hono/html';
import type { BikeFact } from '../../core/ledger/facts.js';
import {
  type BikeWithUnits,
  getRidersPage,
  RIDERS_SHOWN,
  type RidersPage,
  type ShownRider,
} from '../../flow/facts/ridersPage.js';
import type { Contact } from '../../ports/contacts.js';
import { pathOfUnit, small } from '../cells/dueCells.js';
import { listLink } from '../cells/listLink.js';
import { nextStep } from '../cells/nextStep.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

export function ridersPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/riders', async (c) => {
    const viewer = c.get('viewer');
    const view = await store.read((tx) => getRidersPage(tx, viewer.now));
    return c.html(
      page(viewer, { title: viewer.texts.riders.title, current: 'riders', body: body(viewer, view) }),
    );
  });
}

function body(viewer: Viewer, { count, riders: shown, loose }: RidersPage): Markup {
  const { riders, due } = viewer.texts;
  return html`
<h1>${riders.title}</h1>
<p class="lead">${riders.lead}</p>
${
  count === 0
    ? nextStep(riders.nothing, '/customers/new', viewer.texts.customer.title)
    : html`<p><a class="button primary" href="/customers/new">${viewer.texts.customer.title}</a></p>
${riderTable(viewer, shown)}
${listLink(viewer, 'riders')}`
}
${when(count > RIDERS_SHOWN, () => html`<p>${due.count(1, RIDERS_SHOWN, count)}</p>`)}
${when(
  loose.length > 0,
  () => html`<h2>${riders.loose}</h2><p class="lead">${riders.looseLead}</p>
${table(
  [riders.bike, riders.units].map((label) => ({ label })),
  loose.map((bike) => ({ head: bikeLink(bike), cells: [unitLinks(viewer, bike)] })),
)}`,
)}`;
}

function riderTable(viewer: Viewer, shown: readonly ShownRider[]): Markup {
  const { riders } = viewer.texts;
  const { columns } = riders;
  return table(
    [columns.rider, columns.bikes, columns.address, columns.language].map((label) => ({ label })),
    shown.map(({ contact, handle, bikes: own }) => {
      return {
        head: html`<a href="/riders/${encodeURIComponent(handle)}">${contact.name}</a>${small(contact.phone)}`,
        cells: [
          own.length === 0
            ? html`${riders.noBike}`
            : html`${own.map((bike) => html`<div>${bikeLink(bike)}: ${unitLinks(viewer, bike)}</div>`)}`,
          html`<span class="long">${contact.email ?? ''}</span>${small(addressText(viewer, contact))}${small(contact.unsubscribedAt === null ? null : riders.stopped)}`,
          html`${viewer.words.languageName(contact.language)}`,
        ],
      };
    }),
  );
}

/** Whether mail reaches the rider. */
export function addressText({ texts: { riders } }: Viewer, contact: Contact): string {
  if (contact.email === null) return riders.address.none;
  if (contact.refusedAt !== null) return riders.address.refused;
  return contact.confirmedAt === null ? riders.address.unconfirmed : riders.address.confirmed;
}

const bikeLink = ({ handle, name }: BikeFact): Markup =>
  html`<a href="/bikes/${encodeURIComponent(handle)}">${name}</a>`;

const unitLinks = ({ texts: { riders } }: Viewer, { tags }: BikeWithUnits): Markup =>
  tags.length === 0
    ? html`${riders.noUnit}`
    : html`${tags.map((tag, i) => html`${i === 0 ? '' : ', '}<a class="nobr" href="${pathOfUnit(tag)}">${tag}</a>`)}`;
