import { html } from 'hono/html';
import { z } from 'zod';
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
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { field, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

const querySchema = z.object({ find: z.string().trim().max(100).catch('').default('') });

export function ridersPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/riders', async (c) => {
    const viewer = c.get('viewer');
    const { find } = querySchema.parse(c.req.query());
    const view = await store.read((tx) => getRidersPage(tx, find, viewer.now));
    return c.html(
      page(viewer, { title: viewer.texts.riders.title, current: 'riders', body: body(viewer, view, find) }),
    );
  });
}

function body(viewer: Viewer, { isEmpty, count, riders: shown, loose }: RidersPage, find: string): Markup {
  const { riders, due } = viewer.texts;
  const hasTable = shown.length > 0;
  return html`
<h1>${riders.title}</h1>
<p class="lead">${riders.lead}</p>
${isEmpty ? html`<p>${riders.nothing}</p>` : search(viewer, find)}
${hasTable ? riderTable(viewer, shown) : when(find !== '' && loose.length === 0, () => html`<p>${riders.none}</p>`)}
${when(count > RIDERS_SHOWN, () => html`<p>${due.count(1, RIDERS_SHOWN, count)}</p>`)}
<p>${riders.add}</p>
${when(
  loose.length > 0,
  () => html`<h2>${riders.loose}</h2><p class="lead">${riders.looseLead}</p>
${table(
  [riders.bike, riders.units].map((label) => ({ label })),
  loose.map((bike) => ({ head: bikeLink(bike), cells: [unitLinks(viewer, bike)] })),
)}`,
)}`;
}

const search = ({ texts: { due, riders } }: Viewer, find: string): Markup => html`
<form class="row" method="get" action="/riders" role="search">
${field({ name: 'find', label: riders.search, value: find, type: 'search' })}
<div class="field"><button>${due.show}</button></div>
${when(find !== '', () => html`<p class="field"><a href="/riders">${due.showAll}</a></p>`)}
</form>`;

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

function addressText({ texts: { riders } }: Viewer, contact: Contact): string {
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
