import { html } from 'hono/html';
import { GROUNDS } from '../../core/tokens.js';
import type { FleetUnit } from '../../flow/fittings/fleet.js';
import { daysBetween, type HireBike, type HirePage } from '../../flow/fittings/hire.js';
import { pathOfUnit, small } from '../cells/dueCells.js';
import { lentText } from '../cells/fleetCells.js';
import { pathOfFleet } from '../cells/planCells.js';
import { cautions, formToken, page } from '../layout.js';
import { choice, field, type Markup, saidAfter, table, tick, when } from '../markup.js';
import type { After, Fields } from '../taken.js';
import type { Viewer } from '../viewer.js';

/** What forbids riding: the first of the two levels of caution. */
export const HARMS = ['cracked', 'loose', 'lost', 'stays', 'brake'] as const;

export function hireMarkup(viewer: Viewer, { fleet, bikes, lent }: HirePage, after: After): Markup {
  const { hire: says } = viewer.texts;
  const path = pathOfFleet(fleet.handle);
  const [out, home] = [bikes.filter((one) => one.out !== null), bikes.filter((one) => one.out === null)];
  const done: Readonly<Record<string, string>> = says.done;
  return page(viewer, {
    title: says.title,
    current: viewer.fleet === null ? 'fleets' : 'fleet',
    body: html`
<h1>${says.titleOf(fleet.name)}</h1>
<p class="lead">${says.lead}</p>
${saidAfter(after.fault, done[after.done ?? ''])}
<h2>${says.outTitle}</h2>
${out.length === 0 ? html`<p>${says.noneOut}</p>` : out.map((one) => backForm(viewer, path, one, sentOf(after, one, 'back')))}
<h2>${says.inTitle}</h2>
${home.length === 0 ? html`<p>${says.noneIn}</p>` : home.map((one) => outForm(viewer, path, one, sentOf(after, one, 'out')))}
<h2>${says.lentTitle}</h2>
${lent.length === 0 ? html`<p>${says.noneLent}</p>` : lentTable(viewer, lent)}
<p class="screen"><a href="${path}">${viewer.texts.team.swap.back}</a></p>
${cautions(viewer)}`,
  });
}

const sentOf = ({ fault, fields }: After, { bike }: HireBike, does: 'out' | 'back'): Fields | null =>
  fault !== null && fields.bike === bike.handle && fields.does === does ? fields : null;

const hidden = (viewer: Viewer, { bike }: HireBike, does: 'out' | 'back'): Markup =>
  html`${formToken(viewer)}<input type="hidden" name="does" value="${does}"><input type="hidden" name="bike" value="${bike.handle}">`;

const hoursFields = (viewer: Viewer, { bike, last }: HireBike, sent: Fields | null): Markup => {
  const { hire: says } = viewer.texts;
  return html`${field({ name: 'hoursADay', id: `hours-${bike.handle}`, label: says.hoursADay, value: sent?.hoursADay ?? (last === null ? '' : viewer.words.number(last.hoursADay)), inputmode: 'decimal', isShort: true, isRequired: true })}
${choice({ name: 'ground', id: `ground-${bike.handle}`, label: viewer.texts.bike.ground, value: sent?.ground ?? last?.ground ?? 'typical', choices: GROUNDS.map((value) => ({ value, label: viewer.words.ground[value] })) })}`;
};

function outForm(viewer: Viewer, path: string, one: HireBike, sent: Fields | null): Markup {
  const { hire: says } = viewer.texts;
  const { bike, units } = one;
  const marked = units.find(({ stopped }) => stopped !== null);
  return html`<details class="entry listed"${sent === null ? '' : html` open`}><summary><b>${bike.name}</b> ${small(units.map(({ unit }) => unit.tag).join(', '))}</summary>
${when(marked !== undefined, () => html`<p><strong>${viewer.texts.team.fleet.stopped(marked!.stopped!)}</strong></p>`)}
<form method="post" action="${path}/hire">${hidden(viewer, one, 'out')}<div class="pair">
${field({ name: 'until', id: `until-${bike.handle}`, label: says.until, type: 'date', value: sent?.until ?? '', isShort: true })}
${hoursFields(viewer, one, sent)}
${field({ name: 'note', id: `note-${bike.handle}`, label: says.note, hint: says.noteHint, value: sent?.note ?? '' })}
</div><p><button aria-label="${says.goesOut}: ${bike.name}">${says.goesOut}</button></p></form></details>`;
}

/** What is looked at in a minute; any tick marks the unit. */
function backForm(viewer: Viewer, path: string, one: HireBike, sent: Fields | null): Markup {
  const { texts, words, today } = viewer;
  const { hire: says } = texts;
  const { bike, units, out } = one;
  const { body, id } = out!;
  const isLate = body.until !== null && body.until < today;
  const until =
    body.until === null ? null : (isLate ? says.late : says.backBy)(words.weekday(body.until, today));
  const days = String(daysBetween(body.out, today));
  return html`<details class="entry listed"${sent === null ? '' : html` open`}><summary><b>${bike.name}</b> ${says.since(words.day(body.out, today))} ${small(body.note)}${when(until !== null, () => (isLate ? html`<br><strong>${until!}</strong>` : html` ${small(until)}`))}</summary>
<form method="post" action="${path}/hire">${hidden(viewer, one, 'back')}<input type="hidden" name="fact" value="${id}">
<div class="pair">${field({ name: 'daysRidden', id: `days-${bike.handle}`, label: says.daysRidden, value: sent?.daysRidden ?? days, inputmode: 'numeric', isShort: true, isRequired: true })}
${hoursFields(viewer, { ...one, last: body }, sent)}</div>
<p>${says.look}</p>
${units.map(
  ({ unit }) =>
    html`<fieldset><legend>${unit.tag} (${words.unitKind[unit.unitKind]})</legend>${HARMS.map((harm) => tick(`harm ${unit.tag} ${harm}`, says.harms[harm], sent?.[`harm ${unit.tag} ${harm}`] === 'yes'))}</fieldset>`,
)}
<p class="soft">${says.soon}</p>
<p><button aria-label="${says.cameBack}: ${bike.name}">${says.cameBack}</button></p></form></details>`;
}

const lentTable = (viewer: Viewer, lent: readonly FleetUnit[]): Markup => {
  const { hire: says } = viewer.texts;
  return table(
    [says.columns.unit, says.columns.where].map((label) => ({ label })),
    lent.map((one) => ({
      head: html`<a href="${pathOfUnit(one.unit.tag)}">${one.unit.tag}</a>${small(one.unit.model)}`,
      cells: [html`${lentText(viewer, one.elsewhere!)}`],
    })),
  );
};
