import { html } from 'hono/html';
import type { GivenHours } from '../../flow/rides/rideChanges.js';
import type { ManyAnswered } from '../../flow/rides/trayGroups.js';
import type { AskingRow, TrayPage } from '../../flow/rides/trayPage.js';
import { fileWhy } from '../../languages/fileText.js';
import { fileTextsFor } from '../../languages/index.js';
import type { RideKey } from '../../ports/rides.js';
import { hoursOfSeconds } from '../../units.js';
import { climbFields, climbsToldOf, likeDayFields, likeDayText } from '../cells/climbFields.js';
import { small } from '../cells/dueCells.js';
import { nextStep } from '../cells/nextStep.js';
import { formToken, page } from '../layout.js';
import { choice, field, type Markup, NOTHING, said, saidAfter, table, when } from '../markup.js';
import { clockText, timeText } from '../show.js';
import type { After } from '../taken.js';
import type { Viewer } from '../viewer.js';
import { groupMarkup, named } from './trayGroupMarkup.js';
import { keyText } from './trayKey.js';

/** Where the page goes on, and what many answers at once came to. */
export interface TrayPlace {
  /** The ride that stood after the one that was answered. */
  readonly at: string | null;
  /** Where the part that is shown begins; null for the first. */
  readonly from: RideKey | null;
  readonly many: ManyAnswered | null;
}

export function trayMarkup(viewer: Viewer, view: TrayPage, after: After, place: TrayPlace): Markup {
  const { at, many } = place;
  const { tray } = viewer.texts;
  const { kept, indoors, open } = tray;
  const climbed = view.climbsSaid === null ? '' : ` ${climbsToldOf(view.climbsSaid, viewer)}`;
  const counted = `${countedText(viewer, view.given)}${climbed}`;
  const told: Record<string, string> = { kept, counted, indoors, open };
  // A fault stands at its own ride, unless that ride is gone.
  const isHere = view.asking.some((row) => row.id === after.fields.ride);
  const done =
    many !== null
      ? tray.answeredMany(many.answered, many.left)
      : after.done === null
        ? undefined
        : told[after.done];
  const isAt = at !== null && view.asking.some((row) => row.id === at);
  return page(viewer, {
    title: tray.title,
    current: 'tray',
    body: html`
<h1>${tray.title}</h1>
<p class="lead">${tray.lead}</p>
${saidAfter(isHere ? null : after.fault, isAt ? undefined : done)}
${view.groups.map((group, i) => groupMarkup(viewer, view, group, String(i)))}
${view.asking.length === 0 ? nextStep(tray.empty, '/ways', viewer.texts.ways.title) : view.asking.map((row) => html`${when(isAt && row.id === at && done !== undefined, () => html`<div id="said">${said(done!, 'status')}</div>`)}${entry(viewer, view, row, { after, place })}`)}
${parts(viewer, view, place)}
${aside(viewer, view)}`,
  });
}

function countedText({ texts: { tray }, words }: Viewer, given: GivenHours | null): string {
  if (given === null) return tray.counted;
  if (given.tags.length === 0) return tray.keptOnly;
  return tray.countedOn(words.hours(hoursOfSeconds(given.movingS)), words.list(given.tags));
}

/** The way on, where not all fits on one page. */
function parts({ texts: { tray } }: Viewer, view: TrayPage, { from }: TrayPlace): Markup {
  const { asking, waiting, next } = view;
  if (asking.length >= waiting) return NOTHING;
  const count = tray.shown(asking.length, waiting);
  return html`<nav class="pages" aria-label="${count}"><span>${count}</span>
${when(from !== null, () => html`<a href="/tray">${tray.first}</a>`)}
${when(next !== null, () => html`<a href="/tray?from=${keyText(next!)}">${tray.next}</a>`)}
</nav>`;
}

function entry(
  viewer: Viewer,
  view: TrayPage,
  row: AskingRow,
  { after, place }: { readonly after: After; readonly place: TrayPlace },
): Markup {
  const { texts, words } = viewer;
  const { tray } = texts;
  const isSent = after.fields.ride === row.id;
  const rider = view.riders.find((one) => one.handle === row.rider)?.name ?? row.rider;
  const bikeName = (handle: string): string =>
    view.bikes.find((one) => one.handle === handle)?.name ?? handle;
  const bike = row.bike === null ? null : bikeName(row.bike);
  const all = row.movingHoursWithDoubtful;
  return html`
<article class="entry" aria-labelledby="q-${row.id}">
<h2 id="q-${row.id}">${tray.question[row.code]}</h2>
${when(isSent && after.fault !== null, () => said(after.fault!, 'alert'))}
<dl class="facts">
<dt>${tray.file}</dt><dd class="long">${row.file}${small(row.stray && tray.stray[row.stray.kind](row.stray.folder))}</dd>
<dt>${tray.start}</dt><dd>${row.start === null ? tray.noTime : timeText(row.start, viewer)}</dd>
<dt>${tray.moving}</dt><dd>${row.code === 'no-times' ? tray.unknown : words.measured(row.movingHours)}${all === null || all === row.movingHours ? '' : `, ${tray.withAll(words.measured(all))}`}</dd>
<dt>${tray.rider}</dt><dd>${rider ?? tray.unknown}</dd>
<dt>${tray.bike}</dt><dd>${bike ?? (row.named.length > 0 ? tray.saidOn(words.list(row.named.map(bikeName))) : tray.unknown)}</dd>
</dl>
${bothDays(viewer, row)}
<div class="answers">${answers(viewer, view, row, { fields: isSent ? after.fields : {}, place })}</div>
</article>`;
}

function answers(
  viewer: Viewer,
  view: TrayPage,
  row: AskingRow,
  { fields, place: { from } }: { readonly fields: After['fields']; readonly place: TrayPlace },
): Markup {
  const { tray } = viewer.texts;
  const path = `/tray/${row.id}${from === null ? '' : `?from=${keyText(from)}`}`;
  const form = (say: string, body: Markup, label: string): Markup => html`
<form class="row" method="post" action="${path}">${formToken(viewer)}<input type="hidden" name="say" value="${say}">
${body}<div class="field"><button>${label}</button></div></form>`;
  const no = form('no', NOTHING, tray.no[row.code] ?? tray.notARide);
  switch (row.code) {
    case 'no-times':
      return html`${form('on-minutes', whenFields(viewer, row, fields, true), tray.answer)}${no}`;
    case 'clock-unset':
    case 'clock-future':
      return html`${form('on', whenFields(viewer, row, fields, false), tray.answer)}${no}`;
    case 'too-sparse':
      return html`${form('minutes', minutesField(viewer, row, fields), tray.answer)}${no}`;
    case 'who':
      return html`${form(
        'who',
        view.areAll
          ? html`${choiceOf(viewer, 'rider', tray.rider, row, view.riders, fields)}${choiceOf(
              viewer,
              'bike',
              tray.bike,
              row,
              view.bikes.map((bike) => named(viewer, view, bike)),
              fields,
            )}`
          : html`${typed(viewer, 'rider', tray.rider, row, fields)}${typed(viewer, 'bike', tray.bike, row, fields)}`,
        tray.answer,
      )}${no}`;
    case 'which-bike':
    case 'two-places': {
      const isNear = ({ handle, rider }: TrayPage['bikes'][number]): boolean =>
        row.named.length > 0 ? row.named.includes(handle) : rider === row.rider;
      const own = view.bikes.filter(isNear);
      const others = view.areAll ? view.bikes.filter((bike) => !own.includes(bike)) : [];
      const first = [...own, ...others].map((bike) => named(viewer, view, bike));
      const fieldsOfBike = html`${choiceOf(viewer, 'bike', tray.bike, row, first, fields)}${when(!view.areAll, () => typed(viewer, 'other', tray.otherBike, row, fields))}`;
      return html`${form('bike', fieldsOfBike, tray.answer)}${when(row.code === 'two-places', () => form('yes', NOTHING, tray.yes['two-places']!))}${no}`;
    }
    case 'climbs':
      return html`${form(
        'climbs',
        climbFields(row.climbs!, viewer, (at) => clockText(at, viewer)),
        tray.answer,
      )}${when(row.likeDay !== null, () => form('climbs', likeDayFields(row.likeDay!), likeDayText(row.likeDay!, row.climbs!, viewer)))}${form('yes', NOTHING, tray.climbs.all)}`;
    default:
      return html`${form('yes', NOTHING, tray.yes[row.code] ?? tray.answer)}${no}`;
  }
}

/** The two rides of a question beside each other, drawn on the hours of their days. */
function bothDays(viewer: Viewer, { start, end, movingHours, other }: AskingRow): Markup {
  const { texts, words } = viewer;
  const { tray } = texts;
  if (other === null || start === null || end === null) return NOTHING;
  const from = Math.min(start, other.start);
  const span = Math.max(end, other.end) - from;
  const bar = (a: number, b: number, y: number): Markup =>
    html`<rect x="${((600 * (a - from)) / span).toFixed(1)}" y="${y}" width="${Math.max(3, (600 * (b - a)) / span).toFixed(1)}" height="16"/>`;
  const line = (name: string, at: typeof start, hours: number, bike: string | null): string =>
    [name, timeText(at, viewer), words.measured(hours), bike].filter((part) => part !== null).join(', ');
  const [one, two] = [
    line(tray.thisRide, start, movingHours, null),
    line(tray.otherRide, other.start, other.movingHours, other.bike ?? tray.unknown),
  ];
  return html`<figure class="plot twodays"><svg viewBox="0 0 600 48" role="img" aria-label="${one}; ${two}" fill="currentColor">${bar(start, end, 4)}${bar(other.start, other.end, 28)}</svg>
<figcaption>${one}<br><a href="/rides/${encodeURIComponent(other.id)}">${two}</a></figcaption></figure>`;
}

/** Fields of several rides stand on one page, so each is told apart by its ride. */
const idOf = (name: string, row: AskingRow): string => `${name}-${row.id}`;

const choiceOf = (
  { texts: { tray } }: Viewer,
  name: 'rider' | 'bike',
  label: string,
  row: AskingRow,
  choices: readonly (TrayPage['riders'][number] & { readonly label?: string })[],
  fields: After['fields'],
): Markup =>
  choice({
    id: idOf(name, row),
    name,
    label,
    value: fields[name] ?? '',
    choices: [
      { value: '', label: tray.choose },
      ...choices.map((one) => ({ value: one.handle, label: one.label ?? `${one.name} (${one.handle})` })),
    ],
  });

/** Where there are too many to choose from. */
const typed = (
  { texts: { tray } }: Viewer,
  name: 'rider' | 'bike' | 'other',
  label: string,
  row: AskingRow,
  fields: After['fields'],
): Markup => field({ id: idOf(name, row), name, label: tray.byName(label), value: fields[name] });

const whenFields = (
  { texts: { tray } }: Viewer,
  row: AskingRow,
  fields: After['fields'],
  withMinutes: boolean,
): Markup => html`
${field({ id: idOf('on', row), name: 'on', label: tray.on, type: 'date', value: fields.on, isRequired: true })}
${field({ id: idOf('at', row), name: 'at', label: tray.at, type: 'time', value: fields.at, isRequired: true })}
${when(withMinutes, () => minutesField({ texts: { tray } }, row, fields))}`;

const minutesField = (
  { texts: { tray } }: { readonly texts: Pick<Viewer['texts'], 'tray'> },
  row: AskingRow,
  fields: After['fields'],
): Markup =>
  field({
    id: idOf('minutes', row),
    name: 'minutes',
    label: tray.minutes,
    value: fields.minutes,
    inputmode: 'numeric',
    isShort: true,
    isRequired: true,
  });

const aside = (viewer: Viewer, { aside: rows }: TrayPage): Markup => {
  const { tray } = viewer.texts;
  return when(
    rows.length > 0,
    () => html`
<h2>${tray.asideTitle}</h2>
<p class="lead">${tray.asideLead}</p>
${table(
  [tray.aside.file, tray.aside.why, tray.aside.seen].map((label) => ({ label })),
  rows.map((row) => ({
    head: html`<span class="long">${row.path}</span>`,
    cells: [
      html`${row.said?.former ?? fileWhy(fileTextsFor(viewer.words.language), { outcome: 'set-aside', code: row.code })}`,
      html`${timeText(row.seenAt, viewer)}`,
    ],
  })),
)}`,
  );
};
