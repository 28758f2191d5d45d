import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import type { Landings } from '../../core/ground/samples/landings.js';
import { POOR_QUALITY } from '../../core/ledger/explain.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import type { Charged } from '../../flow/due/listCharged.js';
import type { NamedRow } from '../../flow/due/namedRows.js';
import type { UnitPage } from '../../flow/due/unitPage.js';
import { hoursOfSeconds, hoursOfThousandths } from '../../units.js';
import { arriveForm, jobForms, jobLines } from '../bench/jobMarkup.js';
import { bookMarkup } from '../book/bookMarkup.js';
import {
  intervalCell,
  likelyCell,
  movingCell,
  pathOfUnit,
  rideLink,
  small,
  stateText,
  terrainCell,
} from '../cells/dueCells.js';
import { lentText } from '../cells/fleetCells.js';
import { photoForm } from '../cells/photoCells.js';
import { periodSourcesMarkup } from '../cells/sourcesMarkup.js';
import { pathOfRule } from '../intervals/intervalScope.js';
import { cautions, page } from '../layout.js';
import { ageLines } from '../looks/looks.js';
import { columnsOf, type Markup, NOTHING, saidAfter, soft, table, when } from '../markup.js';
import { curvesMarkup } from '../plots/curvesMarkup.js';
import { byText, knownText, twoDecimals, weightText } from '../show.js';
import type { After } from '../taken.js';
import type { Viewer } from '../viewer.js';
import { unitForms } from './unitForms.js';

export function unitMarkup(viewer: Viewer, view: UnitPage, after: After): Markup {
  const { texts } = viewer;
  const { unit, mark } = view.ledger;
  const { done: says } = texts.unit;
  const done =
    after.done === null
      ? undefined
      : (says[after.done] ?? texts.inspect.done[after.done] ?? texts.bench.done[after.done]);
  return page(viewer, {
    title: unit.tag,
    current: 'units',
    takesPhotos: true,
    body: html`
<h1>${unit.tag}</h1>
${saidAfter(after.fault, done)}
${when(mark !== null, () => {
  const { body, recordedBy, recordedAt } = mark!;
  const day = viewer.words.day(dayOf(recordedAt, viewer.zone), viewer.today);
  return html`<p class="stop"><strong>${texts.unit.stopped(body.why, byText(viewer, recordedBy), day)}</strong></p>`;
})}
${when(view.gone !== null, () => html`<p><strong>${texts.unit.isGone(viewer.words.gone[view.gone!.how], viewer.words.day(view.gone!.on, viewer.today))}</strong></p>`)}
${when(view.gone === null, () => firstActs(viewer, view, after))}
${unitFacts(viewer, view)}
${when(!view.isOfTeam, () => html`<p class="screen"><a href="${pathOfUnit(unit.tag)}/inspect">${texts.inspect.history.link}</a> · <a href="/sheets/edit?unit=${encodeURIComponent(unit.tag)}">${texts.sheets.unitLink}</a></p>`)}
<h2>${texts.unit.standsTitle}</h2>
${visitMarkup(viewer, view)}
${standings(viewer, view.rows, !view.isOfTeam)}
${knownLine(viewer, view.rows)}
${curvesMarkup(view.curves, viewer)}
<h2>${texts.sources.title}</h2>
${periodSourcesMarkup(viewer, view.periods)}
<h2>${texts.unit.bookTitle}</h2>
${when(!view.isOfTeam, () => html`<p class="screen"><a href="${pathOfUnit(unit.tag)}/book">${texts.paper.book.link}</a></p>`)}
${bookMarkup(viewer, unit.tag, view, !view.isOfTeam)}
${unitForms(viewer, view, after)}
<h2>${texts.unit.ridesTitle}</h2>
${rides(viewer, view)}
<p class="soft">${texts.severityNote}</p>
${cautions(viewer)}`,
  });
}

/** What is done with a unit most: its job at the workshop, or that it arrives, its service, its card. */
function firstActs(
  viewer: Viewer,
  { job, isOfTeam, photos, ledger: { unit } }: UnitPage,
  { fault, fields }: After,
): Markup {
  const { bench } = viewer.texts;
  const path = pathOfUnit(unit.tag);
  const sent = fault !== null && fields.from === 'unit' ? fields : {};
  if (job !== null)
    return html`<section class="entry"><h2>${bench.job.atWorkshop}: ${viewer.words.jobStep[job.stay.job.step]}</h2>
<p class="soft">${viewer.texts.unit.onBench}</p>${jobLines(viewer, job)}${jobForms(viewer, job, 'unit', sent)}</section>`;
  return html`<div class="answers"><a class="button primary" href="${path}/service?from=unit">${viewer.texts.unit.logTitle}</a>
${when(!isOfTeam, () => html`<a class="button" href="${path}/day">${viewer.texts.leads.bookDay}</a>`)}
<a class="button" href="${path}/card">${viewer.texts.paper.card.link}</a>
<a class="button" href="${path}/set-up">${viewer.texts.setUp.link}</a></div>
${photoForm(
  viewer,
  unit.tag,
  photos.filter(({ serviceId }) => serviceId === null),
  'unit',
)}
<details class="entry"${Object.keys(sent).length > 0 ? html` open` : ''}><summary><h2>${bench.arriveTitle}</h2></summary>${arriveForm(viewer, unit.tag, 'unit', sent)}</details>`;
}

function visitMarkup({ texts, words }: Viewer, { visit: { job, beside, because } }: UnitPage): Markup {
  if (job === null) return NOTHING;
  const why = because === null ? '' : ` ${texts.looks.inPlace(words.because(because))}`;
  return html`<p>${texts.looks.comesFor(words.jobs([job, ...beside]))}${why}</p>`;
}

function unitFacts(
  viewer: Viewer,
  { ledger: { unit, fittings, bikes }, loan, rows, ages, landings }: UnitPage,
): Markup {
  const { texts, words, now, today } = viewer;
  const on = fittingNow(fittings, now);
  const bike = on === undefined ? undefined : bikes.get(on.bikeId);
  const { history } = unit;
  const came =
    typeof history === 'string'
      ? history === 'new'
        ? texts.unit.wasNew
        : texts.unit.wasUnknown
      : texts.unit.hadRun(
          words.hours(history.terrainHours),
          words.hours(history.movingHours),
          words.day(history.asOf, today),
        );
  const kind = words.unitKind[unit.unitKind];
  const facts: [string, Markup | string][] = [
    [texts.unit.model, unit.model === null ? kind : `${kind}, ${unit.model}`],
    ...(unit.serial === null ? [] : ([[texts.unit.serial, unit.serial]] as [string, string][])),
    [
      texts.unit.bike,
      bike === undefined
        ? texts.due.noBike
        : html`<a href="/bikes/${encodeURIComponent(bike.handle)}">${bike.name}</a>${small(loan === null ? null : lentText(viewer, { bike: bike.name, until: loan }))}`,
    ],
    ...(bike === undefined
      ? []
      : ([[texts.unit.rider, rows[0]?.riderName ?? texts.due.noRider]] as [string, string][])),
    [texts.unit.history, came],
    ...(unit.warrantyEnd === null
      ? []
      : ([[texts.unit.warranty, words.day(unit.warrantyEnd, today)]] as [string, string][])),
    ...ageLines(viewer, ages),
    ...(landings === null
      ? []
      : ([[texts.ride.landings, landedText(viewer, landings)]] as [string, string][])),
    ...(unit.factor === 1 ? [] : ([[texts.unit.factor, words.number(unit.factor)]] as [string, string][])),
  ];
  return html`<dl class="facts">${facts.map(([name, value]) => html`<dt>${name}</dt><dd>${value}</dd>`)}</dl>`;
}

function landedText({ texts, words }: Viewer, { count, longestS }: Landings): string {
  const longest = longestS === null ? null : words.number(longestS);
  return texts.unit.landed(words.number(count), longest);
}

function standings(viewer: Viewer, rows: readonly NamedRow[], canSet: boolean): Markup {
  const { columns } = viewer.texts.due;
  const { texts, words } = viewer;
  const own = (row: NamedRow): string =>
    pathOfRule({
      unitKind: row.unitKind,
      serviceKind: row.serviceKind,
      unitTag: row.unit,
      fleetHandle: null,
      scope: { model: null },
    });
  return table(
    [
      { label: columns.service },
      { label: columns.state },
      { label: columns.likely, note: texts.due.likelyHint },
      { label: columns.terrain, isFigure: true },
      { label: columns.moving, isFigure: true },
      { label: columns.interval },
    ],
    rows.map((row) => ({
      head: html`<b>${words.serviceKind(row.serviceKind)}</b>`,
      cells: [
        stateText(viewer, row.state),
        likelyCell(viewer, row),
        terrainCell(viewer, row),
        movingCell(viewer, row),
        html`${intervalCell(viewer, row)}${when(canSet, () => html`<small class="screen"><a href="${own(row)}" aria-label="${texts.unit.own}: ${words.serviceKind(row.serviceKind)}">${texts.unit.own}</a></small>`)}`,
      ],
    })),
  );
}

/** The same for every service kind of the unit. */
function knownLine(viewer: Viewer, [row]: readonly NamedRow[]): Markup {
  if (row === undefined) return NOTHING;
  const known = { knownUpTo: row.knownUpTo, expectedHours: row.expectedHoursSince };
  return soft(knownText(known, viewer, viewer.today));
}

function rides(viewer: Viewer, { rides: charged, former }: UnitPage): Markup {
  const { unit } = viewer.texts;
  const columns = unit.rides;
  if (charged.length === 0) return html`<p>${unit.noRides}</p>`;
  return html`<p class="lead">${unit.ridesLead}</p>
${table(
  columnsOf(
    [columns.day, columns.bike, columns.moving, columns.weight, columns.terrain, columns.ground],
    [columns.moving, columns.weight, columns.terrain, columns.ground],
  ),
  charged.map((one) => ({
    head: rideLink(viewer, one.ride),
    cells: [
      html`${one.bikeName}`,
      html`${viewer.words.measured(hoursOfSeconds(one.movingS))}${small(former.has(one.ride.id) ? viewer.texts.ride.formerReader : null)}`,
      html`${weightText(one, viewer)}`,
      html`${viewer.words.measured(hoursOfThousandths(one.terrainMs))}`,
      groundCell(viewer, one),
    ],
  })),
)}`;
}

function groundCell(viewer: Viewer, { ride }: Charged): Markup {
  const { texts } = viewer;
  const { unit } = texts;
  const how =
    ride.source === 'hand'
      ? unit.byHand
      : ride.quality === null
        ? unit.noElevation
        : ride.quality < POOR_QUALITY
          ? unit.poor
          : null;
  return html`${twoDecimals(ride.severity, viewer)}${small(how)}${small(ride.damage === null ? null : unit.damaged)}${small(ride.formerReader ? texts.ride.formerReader : null)}`;
}
