import { html } from 'hono/html';
import {
  type Fleet,
  type FleetUnit,
  getFleetPage,
  type ListedFleet,
  listFleets,
} from '../../flow/fittings/fleet.js';
import type { StandingRow } from '../../ports/standings.js';
import { small, stateCell, unitCell } from '../cells/dueCells.js';
import { pathOfFleet, planPages } from '../cells/planCells.js';
import type { WebDeps } from '../deps.js';
import { cautions, page } from '../layout.js';
import { type Markup, type Row, saidAfter, table, when } from '../markup.js';
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
    const { fleet, waiting } = await store.read((tx) => getFleetPage(tx, c.req.param('fleet'), viewer.now));
    return c.html(markup(viewer, fleet, waiting, c.req.query()));
  });
}

function list(viewer: Viewer, all: readonly ListedFleet[]): Markup {
  const { fleets } = viewer.texts.team;
  return page(viewer, {
    title: fleets.title,
    current: 'plan',
    body: html`
<h1>${fleets.title}</h1>
<p class="lead">${fleets.lead}</p>
${planPages(viewer, 'fleets')}
<p class="screen"><a class="button plain" href="/fleets/new">${viewer.texts.racing.fleet.enter}</a></p>
${
  all.length === 0
    ? html`<p>${fleets.none}</p>`
    : table(
        [{ label: fleets.columns.fleet }, { label: fleets.columns.bikes }],
        all.map(({ handle, name, bikes }) => ({
          head: html`<a href="${pathOfFleet(handle)}">${name}</a>`,
          cells: [html`${viewer.words.number(bikes)}`],
        })),
      )
}`,
  });
}

/** Which two units were swapped, or swapped back. */
interface SwapSaid {
  readonly one?: string;
  readonly other?: string;
  readonly back?: string;
}

function markup(
  viewer: Viewer,
  fleet: Fleet,
  waiting: ReadonlyMap<string, number>,
  { one, other, back }: SwapSaid,
): Markup {
  const { texts, words } = viewer;
  const { fleet: says, swap } = texts.team;
  const tags = fleet.units.map(({ unit }) => unit.tag);
  // The address may say anything; only this fleet's own tags are told.
  const isSwapped = one !== undefined && other !== undefined && tags.includes(one) && tags.includes(other);
  const on = fleet.units.filter(({ bike }) => bike !== null);
  const spares = fleet.units.filter(({ bike }) => bike === null);
  const asking = fleet.bikes.filter(({ id }) => waiting.has(id));
  const bare = fleet.bikes.filter(({ id }) => !on.some(({ bike }) => bike!.id === id));
  return page(viewer, {
    title: fleet.name,
    current: viewer.fleet === null ? 'plan' : 'fleet',
    body: html`
<h1>${fleet.name}</h1>
<p class="lead">${says.lead}</p>
${planPages(viewer, 'fleets')}
${saidAfter(null, isSwapped ? (back === undefined ? swap.done : swap.doneBack)(one, other) : undefined)}
<p class="screen"><a href="${pathOfFleet(fleet.handle)}/swap">${says.toSwap}</a> · <a href="/races">${says.toRaces}</a> · <a href="${pathOfFleet(fleet.handle)}/spares">${texts.racing.fleet.sparesLink}</a>${when(viewer.fleet === null, () => html` · <a href="${pathOfFleet(fleet.handle)}/change">${texts.racing.fleet.change}</a>`)} · ${says.print}</p>
<div class="sheet">
<h2>${says.bikesTitle}</h2>
${on.length === 0 ? html`<p>${says.noUnits}</p>` : unitTable(viewer, on)}
${when(bare.length > 0, () => html`<p class="soft">${says.bare(words.list(bare.map(({ name }) => name)))}</p>`)}
${when(asking.length > 0, () => html`<p>${says.waiting(words.list(asking.map(({ name }) => name)))}</p>`)}
<h2>${says.sparesTitle}</h2>
${spares.length === 0 ? html`<p>${says.noSpares}</p>` : unitTable(viewer, spares)}
</div>
<p class="soft">${texts.severityNote}</p>
${cautions(viewer)}`,
  });
}

function unitTable(viewer: Viewer, units: readonly FleetUnit[]): Markup {
  const { columns } = viewer.texts.team.fleet;
  return table(
    [columns.unit, columns.bike, columns.state, columns.left, columns.likely].map((label) => ({ label })),
    units.map((one) => row(viewer, one)),
  );
}

function row(viewer: Viewer, { unit, bike, standings, stopped }: FleetUnit): Row {
  const { fleet: says, swap } = viewer.texts.team;
  const first = standings[0];
  const likely = first && likelyText(first.likely, viewer);
  return {
    head: unitCell(viewer, { unit: unit.tag, unitKind: unit.unitKind, model: unit.model }),
    cells: [
      bike === null
        ? html`${swap.spare}`
        : html`<a href="/bikes/${encodeURIComponent(bike.handle)}">${bike.name}</a>`,
      stopped === null
        ? html`${first ? stateCell(viewer, first) : ''}`
        : html`<strong>${says.stopped(stopped)}</strong>`,
      html`${standings.map((one) => html`<div>${leftText(viewer, one)}</div>`)}`,
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

function leftText(
  { texts, words }: Viewer,
  { serviceKind, hoursLeft, interval, state }: StandingRow,
): string {
  const { fleet: says } = texts.team;
  const left =
    state === 'history-unknown'
      ? says.unknown
      : interval.terrainHours === null || hoursLeft === null
        ? says.months
        : hoursLeft >= 0
          ? words.hours(hoursLeft)
          : says.over(words.hours(-hoursLeft));
  return says.left(words.serviceKind(serviceKind), left);
}
