import { html } from 'hono/html';
import { type Landings, landingSpeed } from '../../core/ground/samples/landings.js';
import { POOR_QUALITY } from '../../core/ledger/explain.js';
import { isCounted } from '../../core/rides/ride.js';
import type { RidePage } from '../../flow/rides/getRide.js';
import { explanationText } from '../../languages/explanation.js';
import { hoursOfSeconds, hoursOfThousandths, kilometresIn } from '../../units.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { page } from '../layout.js';
import { type Markup, said, soft, when } from '../markup.js';
import { classTable, minutesText } from '../plots/classTable.js';
import { profilePlot } from '../plots/profilePlot.js';
import { byText, readsOtherwise, timeText, twoDecimals, weightText } from '../show.js';
import type { Viewer } from '../viewer.js';
import { notesMarkup, qualityText, recordingsMarkup } from './rideRecordings.js';

export function rideMarkup(viewer: Viewer, view: RidePage): Markup {
  const { texts, words, today } = viewer;
  const { ride } = texts;
  const { start, day, source } = view.ride;
  const title =
    start === null
      ? ride.untimedTitle
      : ride.title(source === 'hand' ? words.day(day!, today) : timeText(start, viewer));
  return page(viewer, {
    title,
    body: html`
<h1>${title}</h1>
${standing(viewer, view)}
${view.ground === null || view.ride.movingS === 0 ? '' : html`<p class="lead">${explanationText(view.ground.explanation, ride)}</p>`}
<div class="beside"><section>${hoursFacts(viewer, view)}</section><section>${rideFacts(viewer, view)}</section></div>
${view.ground === null ? '' : groundMarkup(viewer, view, view.ground)}
${recordingsMarkup(viewer, view)}
${notesMarkup(viewer, view.recordings)}
<p class="soft">${texts.severityNote}</p>`,
  });
}

/** Why it does not count, if it does not. */
function standing({ texts }: Viewer, { ride }: RidePage): Markup {
  if (ride.dismissed) return said(texts.ride.dismissed, 'status');
  if (ride.question !== null)
    return said(
      html`${texts.ride.waiting} <a href="/tray#q-${ride.id}">${texts.tray.question[ride.question]}</a>`,
      'status',
    );
  return when(ride.indoor, () => said(texts.ride.indoor, 'status'));
}

type Facts = readonly (readonly [name: string, value: Markup | string])[];

const factList = (facts: Facts): Markup =>
  html`<dl class="facts">${facts.map(([name, value]) => html`<dt>${name}</dt><dd>${value}</dd>`)}</dl>`;

function hoursFacts(viewer: Viewer, { ride: row, ground, hand }: RidePage): Markup {
  const { ride } = viewer.texts;
  const { measured: hours, ground: groundWords } = viewer.words;
  const severity = twoDecimals(row.severity, viewer);
  const known: Facts =
    ground === null
      ? []
      : [
          [ride.quality, qualityText(viewer, row.quality)],
          [ride.prior, ride.priorFrom(twoDecimals(ground.prior, viewer))],
        ];
  return html`<h2>${ride.hours}</h2>${factList([
    [ride.moving, html`<strong>${hours(hoursOfSeconds(row.movingS))}</strong>`],
    ...(row.movingS === 0 ? [] : ([[ride.weight, weightText(row, viewer)]] as Facts)),
    [ride.terrain, html`<strong>${hours(hoursOfThousandths(row.terrainMs))}</strong>`],
    [ride.severity, hand === null ? severity : `${severity}, ${groundWords[hand.body.ground]}`],
    ...known,
  ])}${soft(readsOtherwise(row) ? ride.rounded : null)}`;
}

function rideFacts(viewer: Viewer, view: RidePage): Markup {
  const { ride } = viewer.texts;
  const { words } = viewer;
  const { ride: row, bike, riderName, hand } = view;
  const metres = (m: number): string => `${words.number(Math.round(m))}\u00a0m`;
  const recorded: Facts =
    row.source === 'hand'
      ? []
      : [
          [ride.distance, `${words.number(kilometresIn(row.distanceM))}\u00a0km`],
          ...(row.ascentM === null || row.descentM === null
            ? []
            : [[ride.climbed, ride.upDown(metres(row.ascentM), metres(row.descentM))] as const]),
          [ride.landings, landingsText(viewer, view.ground?.landings ?? null)],
          [
            ride.kind,
            row.subSport === null || row.subSport === 'generic'
              ? ride.kindUnsaid
              : (ride.kinds[row.subSport] ?? row.subSport.replaceAll('_', ' ')),
          ],
        ];
  const rule = row.bikeRule === null || row.source === 'hand' ? '' : `, ${words.bikeRule[row.bikeRule]}`;
  return html`<h2>${ride.about}</h2>${factList([
    [
      ride.bike,
      bike === null
        ? ride.noBike
        : html`<a href="/bikes/${encodeURIComponent(bike.handle)}">${bike.name}</a>${rule}`,
    ],
    [ride.rider, riderName ?? ride.noRider],
    ...(!isCounted(row) ? [] : ([[ride.units, unitLinks(viewer, view)]] as Facts)),
    ...recorded,
    ...(hand === null ? [] : ([[ride.entered, ride.enteredBy(byText(viewer, hand.recordedBy))]] as Facts)),
    ...(hand?.body.note ? ([[ride.note, hand.body.note]] as Facts) : []),
  ])}`;
}

function landingsText({ texts: { ride }, words }: Viewer, landings: Landings | null): string {
  if (landings === null) return ride.noLandings;
  const { count, hangS, longestS } = landings;
  if (count === 0) return words.number(0);
  const longest = longestS === null ? null : words.number(longestS);
  return ride.landingsSay(
    words.number(count),
    words.number(hangS),
    longest,
    words.number(landingSpeed(longestS ?? 0)),
  );
}

const unitLinks = ({ texts }: Viewer, { units }: RidePage): Markup =>
  units.length === 0
    ? html`${texts.ride.noUnits}`
    : html`${units.map((tag, i) => html`${i === 0 ? '' : ', '}<a href="${pathOfUnit(tag)}">${tag}</a>`)}`;

function groundMarkup(
  viewer: Viewer,
  { ride: row }: RidePage,
  { profile, classes, leftOut }: NonNullable<RidePage['ground']>,
): Markup {
  const { ride } = viewer.texts;
  const plot = profilePlot(profile, viewer);
  const isPoor = row.quality !== null && row.quality < POOR_QUALITY;
  return html`<h2>${ride.groundTitle}</h2>
${
  plot === null
    ? html`<p>${ride.noGround}</p>`
    : html`<p class="lead">${ride.groundLead}</p>
${when(isPoor, () => html`<p><strong>${ride.groundPoor}</strong></p>`)}
<div class="beside">${plot}${when(classes.length > 0, () => classTable(classes, viewer))}</div>`
}
<h2>${ride.leftOutTitle}</h2>
${
  leftOut.length === 0
    ? html`<p>${ride.nothingLeftOut}</p>`
    : html`<ul>${leftOut.map(({ code, s }) => html`<li>${ride.leftOut[code](minutesText(s, viewer))}</li>`)}</ul>`
}`;
}
