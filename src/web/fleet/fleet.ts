import { html } from 'hono/html';
import {
  byTightness,
  type FleetPage,
  type FleetUnit,
  getFleetPage,
  type ListedFleet,
  listFleets,
} from '../../flow/fittings/fleet.js';
import type { StandingRow } from '../../ports/standings.js';
import { small, stateCell, unitCell } from '../cells/dueCells.js';
import { leftText, lentText } from '../cells/fleetCells.js';
import { listLink } from '../cells/listLink.js';
import { nextStep } from '../cells/nextStep.js';
import { pathOfFleet } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { cautions, page } from '../layout.js';
import { dense, type Markup, type Row, table, when } from '../markup.js';
import type { Pages } from '../routes.js';
import { datedText, likelyText } from '../show.js';
import type { Viewer } from '../viewer.js';

export function fleetPages(pages: Pages, { store }: WebDeps): void {
  pages.get('/fleets', async (c) => {
    const viewer = c.get('viewer');
    const fleets = await store.read(listFleets);
    return c.html(list(viewer, fleets));
  });

  pages.get('/fleets/:fleet', async (c) => {
    const viewer = c.get('viewer');
    const view = await store.read((tx) => getFleetPage(tx, c.req.param('fleet'), viewer.now));
    return c.html(markup(viewer, view, c.req.query()));
  });
}

function list(viewer: Viewer, all: readonly ListedFleet[]): Markup {
  const { fleets } = viewer.texts.team;
  return page(viewer, {
    title: fleets.title,
    current: 'fleets',
    body: html`
<h1>${fleets.title}</h1>
<p class="lead">${fleets.lead}</p>
${
  all.length === 0
    ? nextStep(fleets.none, '/fleets/new', viewer.texts.racing.fleet.enter)
    : html`<p class="screen"><a class="button" href="/fleets/new">${viewer.texts.racing.fleet.enter}</a></p>
${table(
  [{ label: fleets.columns.fleet }, { label: fleets.columns.bikes, isFigure: true }],
  all.map(({ handle, name, bikes }) => ({
    head: html`<a href="${pathOfFleet(handle)}">${name}</a>`,
    cells: [html`${viewer.words.number(bikes)}`],
  })),
)}`
}`,
  });
}

const SHOWS = ['all', 'bikes', 'spares', 'pressing'] as const;
type Show = (typeof SHOWS)[number];

const IS_SHOWN: Readonly<Record<Show, (one: FleetUnit) => boolean>> = {
  all: () => true,
  bikes: ({ bike }) => bike !== null,
  spares: ({ bike, elsewhere }) => bike === null && elsewhere === null,
  pressing: ({ standings: [first], stopped }) =>
    stopped !== null || (first !== undefined && first.state !== 'in-time'),
};

function markup(
  viewer: Viewer,
  { fleet, waiting }: FleetPage,
  { show: asked }: { readonly show?: string },
): Markup {
  const { texts, words } = viewer;
  const { fleet: says } = texts.team;
  const path = pathOfFleet(fleet.handle);
  const show = SHOWS.find((one) => one === asked) ?? 'all';
  const shown = fleet.units.filter(IS_SHOWN[show]).sort(byTightness);
  const asking = fleet.bikes.filter(({ id }) => waiting.has(id));
  const bare = fleet.bikes.filter(({ id }) => !fleet.units.some(({ bike }) => bike?.id === id));
  return page(viewer, {
    title: fleet.name,
    current: viewer.fleet === null ? 'fleets' : 'fleet',
    body: html`
<h1>${fleet.name}</h1>
<p class="lead">${says.lead}</p>
<p class="screen"><a href="${path}/swap">${says.toSwap}</a> · <a href="/races">${says.toRaces}</a> · <a href="${path}/hire">${texts.hire.link}</a> · <a href="${path}/spares">${texts.racing.fleet.sparesLink}</a>${when(viewer.fleet === null, () => html` · <a href="${path}/change">${texts.racing.fleet.change}</a>`)} · ${says.print}</p>
<ul class="tally" aria-label="${says.filter}">${SHOWS.map(
      (one) =>
        html`<li><a href="${one === 'all' ? path : `${path}?show=${one}`}"${one === show ? html` aria-current="true"` : ''}>${words.number(fleet.units.filter(IS_SHOWN[one]).length)} ${says.shows[one]}</a></li>`,
    )}</ul>
<div class="sheet">
${fleet.units.length === 0 ? html`<p>${says.noUnits}</p>` : shown.length === 0 ? html`<p>${says.nothing}</p>` : unitTable(viewer, shown)}
${when(bare.length > 0, () => html`<p class="soft">${says.bare(words.list(bare.map(({ name }) => name)))}</p>`)}
${when(asking.length > 0, () => html`<p>${says.waiting(words.list(asking.map(({ name }) => name)))}</p>`)}
</div>
${when(viewer.fleet !== null, () => fleetLists(viewer))}
<p class="soft">${texts.severityNote}</p>
${cautions(viewer)}`,
  });
}

/** A mechanic's lists hold the own fleet's units alone. */
function fleetLists(viewer: Viewer): Markup {
  const { customer } = viewer.texts;
  const year = viewer.today.slice(0, 4);
  return html`${listLink(viewer, 'due', {}, `${customer.fleetLists} ${customer.dueList}`)}
${listLink(viewer, 'units', {}, `${customer.fleetLists} ${customer.unitList}`)}
${listLink(viewer, 'services', { year }, customer.servicesOf(year))}`;
}

function unitTable(viewer: Viewer, units: readonly FleetUnit[]): Markup {
  const { columns } = viewer.texts.team.fleet;
  return dense(
    [columns.unit, columns.bike, columns.state, columns.left, columns.likely].map((label) => ({ label })),
    units.map((one) => row(viewer, one)),
  );
}

function row(viewer: Viewer, { unit, bike, elsewhere, standings, stopped }: FleetUnit): Row {
  const { fleet: says, swap } = viewer.texts.team;
  const [first, ...rest] = standings;
  const likely = first && likelyText(first.likely, viewer);
  return {
    head: unitCell(viewer, { unit: unit.tag, unitKind: unit.unitKind, model: unit.model }),
    cells: [
      bike === null
        ? html`${elsewhere === null ? swap.spare : lentText(viewer, elsewhere)}`
        : html`<a href="/bikes/${encodeURIComponent(bike.handle)}">${bike.name}</a>`,
      stopped === null
        ? html`${first ? stateCell(viewer, first) : ''}`
        : html`<span class="stop"><strong>${says.stopped(stopped)}</strong></span>`,
      html`${first ? leftText(viewer, first) : ''}${small(rest.map((one) => leftText(viewer, one)).join(' · '))}`,
      html`${monthsUp(viewer, first) ?? likely?.middle ?? ''}${small(likely?.range ?? null)}`,
    ],
  };
}

/** Beside hours that are left, nothing else would say why a unit is over its interval. */
function monthsUp(viewer: Viewer, first: StandingRow | undefined): string | null {
  const reached = first?.likely.p90 ?? null;
  if (first?.limit !== 'months' || reached === null || reached > viewer.today) return null;
  const months = viewer.words.counted(first.interval.months!, 'month');
  return viewer.texts.team.fleet.monthsUp(months, datedText(reached, viewer));
}
