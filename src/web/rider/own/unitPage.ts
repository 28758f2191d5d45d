import { html } from 'hono/html';
import { findOwnUnit, type OwnUnit } from '../../../flow/due/ownPage.js';
import { findAskedService } from '../../../flow/own/afterService.js';
import { listSetUps } from '../../../flow/plan/setUps.js';
import type { StandingRow } from '../../../ports/standings.js';
import { setUpRows } from '../../cells/setUpCells.js';
import { periodSourcesMarkup } from '../../cells/sourcesMarkup.js';
import { cautions } from '../../layout.js';
import { type Markup, table, when } from '../../markup.js';
import { curvesMarkup } from '../../plots/curvesMarkup.js';
import { fault, notYours, type RiderPage, type RiderView } from '../riderPage.js';
import { afterServiceForm, takeAfterService } from './afterService.js';
import { knownLine, likelyOf, movingOf, pathToUnit, stateText, terrainOf, unitName } from './cells.js';

const ACTS = ['ask', 'done', 'later', 'gone'] as const;

/** Where one unit stands in each of its services, what a rider can do about it, and what was done before. */
export const unitPage: RiderPage = {
  title: (texts) => texts.own.bikes.more,
  show: async (tx, view) => {
    const { opened, now } = view;
    const found = await findOwnUnit(tx, opened.contact.riderId, opened.link.unitId, now);
    if (!found) return notYours(view);
    const { bike, of, curves, running } = found;
    const { left: setUp } = await listSetUps(tx, of.unitId);
    const { unit: texts } = view.texts.own;
    return html`
<p class="lead">${view.texts.about(bike.name, unitName(view, of.unit))}</p>
${afterServiceForm(view, await findAskedService(tx, of.unitId, now))}
<h2>${texts.stands}</h2>
${standingTable(view, of.unit.tag, of.standings)}
${knownLine(view, of.standings)}
${curvesMarkup(curves, { ...view.voice, today: view.today, zone: view.workshop.timeZone, now })}
<details><summary>${view.voice.texts.sources.title}</summary>${periodSourcesMarkup(view.voice, running)}</details>
${when(setUp !== null, () => html`<h2>${view.voice.texts.setUp.left}, ${view.voice.words.day(setUp!.body.on, view.today)}</h2>${setUpRows(view.voice, setUp!.body)}`)}
<h2>${texts.services}</h2>
${services(view, of.unit.tag, found.services)}
<p class="soft">${view.voice.texts.severityNote}</p>
${cautions(view.voice)}`;
  },
  take: async (tx, view, fields) => {
    const { opened, now } = view;
    const found = await findOwnUnit(tx, opened.contact.riderId, opened.link.unitId, now);
    return found ? takeAfterService(tx, view, found.of.unitId, fields) : fault(view.texts.notYours.says);
  },
};

function standingTable(view: RiderView, tag: string, standings: readonly StandingRow[]): Markup {
  const { columns, later, gone } = view.texts.own.unit;
  const { ask, done } = view.texts.own.bikes;
  const labels = { ask, done, later, gone };
  const { words } = view.voice;
  return table(
    Object.values(columns).map((label) => ({ label })),
    standings.map((standing) => {
      const job = words.serviceKind(standing.serviceKind);
      return {
        head: html`<b>${job}</b>`,
        cells: [
          stateText(view, standing),
          html`${likelyOf(view, standing)}`,
          html`${terrainOf(view, standing)}`,
          html`${movingOf(view, standing)}`,
          html`<ul class="acts">${ACTS.map(
            (act) =>
              html`<li><a href="${pathToUnit(view.home ?? '', tag, standing.serviceKind, act)}">${labels[act]}<span class="hidden">${view.texts.own.bikes.moreOf(job)}</span></a></li>`,
          )}</ul>`,
        ],
      };
    }),
  );
}

function services(view: RiderView, tag: string, done: OwnUnit['services']): Markup {
  const { texts, today, home } = view;
  const { words } = view.voice;
  const { unit } = texts.own;
  if (done.length === 0) return html`<p>${unit.none}</p>`;
  return table(
    [unit.done.day, unit.done.service, unit.done.where].map((label) => ({ label })),
    done.map(({ body, entityId }) => ({
      head: html`<b>${words.day(body.on, today)}</b>`,
      cells: [
        body.by === 'here'
          ? html`<a href="${pathToUnit(home ?? '', tag, 'found', entityId)}">${words.serviceKind(body.serviceKind)}</a>`
          : html`${words.serviceKind(body.serviceKind)}`,
        html`${body.by === 'here' ? unit.here : words.doneBy[body.by]}`,
      ],
    })),
  );
}
