import { html } from 'hono/html';
import type { BikeFact } from '../../core/facts.js';
import { fittingAt, fittingOf } from '../../flow/unitLedger.js';
import type { Contact, Tx } from '../../ports.js';
import type { WebDeps } from '../deps.js';
import { pathOfUnit, small } from '../dueCells.js';
import { page } from '../layout.js';
import { type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

type BikeWithUnits = BikeFact & { readonly tags: readonly string[] };

interface RidersView {
  readonly contacts: readonly Contact[];
  readonly bikes: readonly BikeWithUnits[];
  readonly handles: ReadonlyMap<string, string>;
}

export function ridersPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/riders', async (c) => {
    const viewer = c.get('viewer');
    const view = await store.read((tx) => getView(tx, viewer));
    return c.html(
      page(viewer, { title: viewer.texts.riders.title, current: 'riders', body: body(viewer, view) }),
    );
  });
}

async function getView(tx: Tx, { now, zone }: Viewer): Promise<RidersView> {
  const tags = await tx.handles.all('unit');
  const on = new Map<string, string[]>();
  for (const fact of await tx.facts.list('fitting')) {
    const fitting = fittingOf(fact, zone);
    if (!fittingAt([fitting], now)) continue;
    on.set(fitting.bikeId, [...(on.get(fitting.bikeId) ?? []), tags.get(fitting.unitId) ?? '']);
  }
  const bikes = (await tx.facts.list('bike')).map(({ entityId, body: of }) => ({
    ...of,
    tags: (on.get(entityId) ?? []).sort(),
  }));
  const contacts = [...(await tx.contacts.list())].sort((a, b) => (a.name < b.name ? -1 : 1));
  const handles = await tx.handles.all('rider');
  return { contacts, handles, bikes: bikes.sort((a, b) => (a.name < b.name ? -1 : 1)) };
}

function body(viewer: Viewer, view: RidersView): Markup {
  const { contacts, bikes } = view;
  const { riders } = viewer.texts;
  const loose = bikes.filter((bike) => bike.riderId === null);
  return html`
<h1>${riders.title}</h1>
<p class="lead">${riders.lead}</p>
${contacts.length === 0 ? html`<p>${riders.nothing}</p>` : riderTable(viewer, view)}
${when(
  loose.length > 0,
  () => html`<h2>${riders.loose}</h2><p class="lead">${riders.looseLead}</p>
${table(
  [riders.bike, riders.units].map((label) => ({ label })),
  loose.map((bike) => ({ head: bikeLink(bike), cells: [unitLinks(viewer, bike)] })),
)}`,
)}`;
}

function riderTable(viewer: Viewer, { contacts, bikes, handles }: RidersView): Markup {
  const { riders } = viewer.texts;
  const { columns } = riders;
  return table(
    [columns.rider, columns.bikes, columns.address, columns.language].map((label) => ({ label })),
    contacts.map((contact) => {
      const own = bikes.filter((bike) => bike.riderId === contact.riderId);
      return {
        head: html`<a href="/riders/${encodeURIComponent(handles.get(contact.riderId) ?? '')}">${contact.name}</a>${small(contact.phone)}`,
        cells: [
          own.length === 0
            ? html`${riders.noBike}`
            : html`${own.map((bike) => html`<div>${bikeLink(bike)}: ${unitLinks(viewer, bike)}</div>`)}`,
          html`<span class="long">${contact.email ?? ''}</span>${small(addressText(viewer, contact))}${small(contact.unsubscribedAt === null ? null : riders.stopped)}`,
          html`${riders.language[contact.language] ?? contact.language}`,
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
