import { html } from 'hono/html';
import type { GivenHours } from '../../flow/rides/rideChanges.js';
import type { AskingRow, TrayPage } from '../../flow/rides/trayPage.js';
import { fileWhy } from '../../languages/fileText.js';
import { fileTextsFor } from '../../languages/index.js';
import { hoursOfSeconds } from '../../units.js';
import { climbFields } from '../cells/climbFields.js';
import { small } from '../cells/dueCells.js';
import { formToken, page } from '../layout.js';
import { choice, field, type Markup, NOTHING, said, saidAfter, table, when } from '../markup.js';
import { clockText, timeText } from '../show.js';
import type { After } from '../taken.js';
import type { Viewer } from '../viewer.js';

export function trayMarkup(viewer: Viewer, view: TrayPage, after: After): Markup {
  const { tray } = viewer.texts;
  const { kept, indoors, open } = tray;
  const counted = countedText(viewer, view.given);
  const told: Record<string, string> = { kept, counted, indoors, open };
  // A fault stands at its own ride, unless that ride is gone.
  const isHere = view.asking.some((row) => row.id === after.fields.ride);
  return page(viewer, {
    title: tray.title,
    current: 'tray',
    body: html`
<h1>${tray.title}</h1>
<p class="lead">${tray.lead}</p>
${saidAfter(isHere ? null : after.fault, after.done === null ? undefined : told[after.done])}
${view.asking.length === 0 ? html`<p>${tray.empty}</p>` : view.asking.map((row) => entry(viewer, view, row, after))}
${aside(viewer, view)}`,
  });
}

function countedText({ texts: { tray }, words }: Viewer, given: GivenHours | null): string {
  if (given === null) return tray.counted;
  if (given.tags.length === 0) return tray.keptOnly;
  return tray.countedOn(words.hours(hoursOfSeconds(given.movingS)), words.list(given.tags));
}

function entry(viewer: Viewer, view: TrayPage, row: AskingRow, after: After): Markup {
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
<dt>${tray.moving}</dt><dd>${row.code === 'no-times' ? tray.unknown : words.hours(row.movingHours)}${all === null || all === row.movingHours ? '' : `, ${tray.withAll(words.hours(all))}`}</dd>
<dt>${tray.rider}</dt><dd>${rider ?? tray.unknown}</dd>
<dt>${tray.bike}</dt><dd>${bike ?? (row.named.length > 0 ? tray.saidOn(words.list(row.named.map(bikeName))) : tray.unknown)}</dd>
</dl>
<div class="answers">${answers(viewer, view, row, isSent ? after.fields : {})}</div>
</article>`;
}

function answers(viewer: Viewer, view: TrayPage, row: AskingRow, fields: After['fields']): Markup {
  const { tray } = viewer.texts;
  const form = (say: string, body: Markup, label: string, isPlain = false): Markup => html`
<form class="row" method="post" action="/tray/${row.id}">${formToken(viewer)}<input type="hidden" name="say" value="${say}">
${body}<div class="field"><button${isPlain ? html` class="plain"` : ''}>${label}</button></div></form>`;
  const no = form('no', NOTHING, tray.no[row.code] ?? tray.notARide, true);
  switch (row.code) {
    case 'no-times':
      return html`${form('on-minutes', whenFields(viewer, row, fields, true), tray.answer)}${no}`;
    case 'clock-unset':
    case 'clock-future':
      return html`${form('on', whenFields(viewer, row, fields, false), tray.answer)}${no}`;
    case 'too-sparse':
      return html`${form('minutes', minutesField(viewer, row, fields), tray.answer)}${no}`;
    case 'who':
      return html`${form('who', html`${choiceOf(viewer, 'rider', tray.rider, row, view.riders, fields)}${choiceOf(viewer, 'bike', tray.bike, row, view.bikes, fields)}`, tray.answer)}${no}`;
    case 'which-bike':
    case 'two-places': {
      const isNear = ({ handle, rider }: TrayPage['bikes'][number]): boolean =>
        row.named.length > 0 ? row.named.includes(handle) : rider === row.rider;
      const own = view.bikes.filter(isNear);
      const first = [...own, ...view.bikes.filter((bike) => !own.includes(bike))];
      return html`${form('bike', choiceOf(viewer, 'bike', tray.bike, row, first, fields), tray.answer)}${when(row.code === 'two-places', () => form('yes', NOTHING, tray.yes['two-places']!))}${no}`;
    }
    case 'climbs':
      return html`${form(
        'climbs',
        climbFields(row.climbs!, viewer, (at) => clockText(at, viewer)),
        tray.answer,
      )}${form('yes', NOTHING, tray.climbs.all, true)}`;
    default:
      return html`${form('yes', NOTHING, tray.yes[row.code] ?? tray.answer)}${no}`;
  }
}

/** Fields of several rides stand on one page, so each is told apart by its ride. */
const idOf = (name: string, row: AskingRow): string => `${name}-${row.id}`;

const choiceOf = (
  { texts: { tray } }: Viewer,
  name: 'rider' | 'bike',
  label: string,
  row: AskingRow,
  choices: TrayPage['riders'],
  fields: After['fields'],
): Markup =>
  choice({
    id: idOf(name, row),
    name,
    label,
    value: fields[name] ?? '',
    choices: [
      { value: '', label: tray.choose },
      ...choices.map((one) => ({ value: one.handle, label: `${one.name} (${one.handle})` })),
    ],
  });

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
