import { html } from 'hono/html';
import { z } from 'zod';
import type { BikeFact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { fittingOf } from '../../flow/unitLedger.js';
import type { Contact } from '../../ports/contacts.js';
import type { Tx } from '../../ports/store.js';
import { pathOfUnit, small } from '../cells/dueCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { field, type Markup, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

const MOST_SHOWN = 200;
const querySchema = z.object({ find: z.string().trim().max(100).catch('').default('') });

type BikeWithUnits = BikeFact & { readonly tags: readonly string[] };

interface ShownRider {
  readonly contact: Contact;
  readonly handle: string;
  readonly bikes: readonly BikeWithUnits[];
}

interface RidersView {
  readonly isEmpty: boolean;
  /** Those that fit, in order of names. */
  readonly riders: readonly ShownRider[];
  /** Bikes without a rider. */
  readonly loose: readonly BikeWithUnits[];
}

export function ridersPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/riders', async (c) => {
    const viewer = c.get('viewer');
    const { find } = querySchema.parse(c.req.query());
    const view = await store.read((tx) => getView(tx, viewer, find));
    return c.html(
      page(viewer, { title: viewer.texts.riders.title, current: 'riders', body: body(viewer, view, find) }),
    );
  });
}

async function getView(tx: Tx, { now, zone }: Viewer, find: string): Promise<RidersView> {
  const tags = await tx.handles.all('unit');
  const on = new Map<string, string[]>();
  for (const fact of await tx.facts.list('fitting')) {
    const fitting = fittingOf(fact, zone);
    if (!fittingNow([fitting], now)) continue;
    on.set(fitting.bikeId, [...(on.get(fitting.bikeId) ?? []), tags.get(fitting.unitId) ?? '']);
  }
  const bikes = new Map<string | null, BikeWithUnits[]>();
  for (const { entityId, body: of } of await tx.facts.list('bike')) {
    const own = bikes.get(of.riderId) ?? [];
    own.push({ ...of, tags: (on.get(entityId) ?? []).sort() });
    bikes.set(of.riderId, own);
  }
  const bikesOf = (riderId: string | null) =>
    (bikes.get(riderId) ?? []).sort((a, b) => (a.name < b.name ? -1 : 1));
  const handles = await tx.handles.all('rider');
  const riders = (await tx.contacts.list())
    .map((contact) => ({
      contact,
      handle: handles.get(contact.riderId) ?? '',
      bikes: bikesOf(contact.riderId),
    }))
    .sort((a, b) => (a.contact.name < b.contact.name ? -1 : 1));
  const isEmpty = riders.length === 0;
  return {
    isEmpty,
    riders: riders.filter((rider) => isSought(find, rider.bikes, rider.contact)),
    loose: bikesOf(null).filter((bike) => isSought(find, [bike])),
  };
}

const isSought = (find: string, bikes: readonly BikeWithUnits[], contact?: Contact): boolean =>
  [contact?.name, contact?.email, contact?.phone, ...bikes.flatMap(({ name, tags }) => [name, ...tags])].some(
    (text) => text?.toLowerCase().includes(find.toLowerCase()),
  );

function body(viewer: Viewer, { isEmpty, riders: found, loose }: RidersView, find: string): Markup {
  const { riders, due } = viewer.texts;
  const shown = found.slice(0, MOST_SHOWN);
  const hasTable = shown.length > 0;
  return html`
<h1>${riders.title}</h1>
<p class="lead">${riders.lead}</p>
${isEmpty ? html`<p>${riders.nothing}</p>` : search(viewer, find)}
${hasTable ? riderTable(viewer, shown) : when(find !== '' && loose.length === 0, () => html`<p>${riders.none}</p>`)}
${when(found.length > MOST_SHOWN, () => html`<p>${due.count(1, MOST_SHOWN, found.length)}</p>`)}
<p>${riders.add}</p>
${when(
  loose.length > 0,
  () => html`<h2>${riders.loose}</h2><p class="lead">${riders.looseLead}</p>
${table(
  [riders.bike, riders.units].map((label) => ({ label })),
  loose.slice(0, MOST_SHOWN).map((bike) => ({ head: bikeLink(bike), cells: [unitLinks(viewer, bike)] })),
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
