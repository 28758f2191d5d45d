import { html } from 'hono/html';
import type { TrayRow } from '../../../flow/rides/listTray.js';
import { climbFields, likeDayFields, likeDayText } from '../../cells/climbFields.js';
import { choice, field, type Markup, NOTHING, when } from '../../markup.js';
import { clockText, timeText } from '../../show.js';
import type { Fields } from '../../taken.js';
import type { Bikes } from '../moveForm.js';
import type { RiderView } from '../riderPage.js';

/** Returns what is asked about one ride, with the ways to answer. */
export function questionMarkup(view: RiderView, row: TrayRow, bikes: Bikes): Markup {
  const { voice, workshop, today } = view;
  const { tray } = voice.texts;
  const startedAt =
    row.start === null ? tray.noTime : timeText(row.start, { ...voice, zone: workshop.timeZone, today });
  const all = row.movingHoursWithDoubtful;
  const hours = row.code === 'no-times' ? tray.unknown : voice.words.hours(row.movingHours);
  return html`
<article class="entry" aria-labelledby="q-${row.id}">
<h3 id="q-${row.id}">${tray.question[row.code]}</h3>
<dl class="facts">
<dt>${tray.file}</dt><dd class="long">${row.file}</dd>
<dt>${tray.start}</dt><dd>${startedAt}</dd>
<dt>${tray.moving}</dt><dd>${hours}${all === null || all === row.movingHours ? '' : `, ${tray.withAll(voice.words.hours(all))}`}</dd>
</dl>
<div class="answers">${answers(view, row, bikes)}</div>
</article>`;
}

function answers(
  { voice, sent, today, workshop: { timeZone: zone } }: RiderView,
  row: TrayRow,
  bikes: Bikes,
): Markup {
  const { tray } = voice.texts;
  const typed = sent.ride === row.id ? sent : {};
  const ask = (say: string, body: Markup, label: string): Markup => html`
<form class="row" method="post"><input type="hidden" name="ride" value="${row.id}"><input type="hidden" name="say" value="${say}">
${body}<div class="field"><button>${label}</button></div></form>`;
  const no = ask('no', NOTHING, tray.no[row.code] ?? tray.notARide);
  switch (row.code) {
    case 'no-times':
      return html`${ask('on-minutes', whenFields(tray, row, typed, true), tray.answer)}${no}`;
    case 'clock-unset':
    case 'clock-future':
      return html`${ask('on', whenFields(tray, row, typed, false), tray.answer)}${no}`;
    case 'too-sparse':
      return html`${ask('minutes', minutesField(tray, row, typed), tray.answer)}${no}`;
    case 'which-bike':
    case 'two-places':
      return html`${bikes.size === 0 ? NOTHING : ask('bike', bikeChoice(tray, row, bikes, typed), tray.answer)}${no}`;
    case 'climbs':
      return html`${ask(
        'climbs',
        climbFields(row.climbs!, voice, (at) => clockText(at, { ...voice, zone })),
        tray.answer,
      )}${when(row.likeDay !== null, () => ask('climbs', likeDayFields(row.likeDay!), likeDayText(row.likeDay!, row.climbs!, { ...voice, zone, today })))}${ask('yes', NOTHING, tray.climbs.all)}`;
    default:
      return html`${ask('yes', NOTHING, tray.yes[row.code] ?? tray.answer)}${no}`;
  }
}

type TrayTexts = RiderView['voice']['texts']['tray'];

/** Fields of several rides stand on one page, so each is told apart by its ride. */
const idOf = (name: string, row: TrayRow): string => `${name}-${row.id}`;

const bikeChoice = (tray: TrayTexts, row: TrayRow, bikes: Bikes, typed: Fields): Markup =>
  choice({
    id: idOf('bike', row),
    name: 'bike',
    label: tray.bike,
    value: typed.bike ?? '',
    choices: [{ value: '', label: tray.choose }, ...[...bikes].map(([value, label]) => ({ value, label }))],
  });

const whenFields = (tray: TrayTexts, row: TrayRow, typed: Fields, withMinutes: boolean): Markup => html`
${field({ id: idOf('on', row), name: 'on', label: tray.on, type: 'date', value: typed.on, isRequired: true })}
${field({ id: idOf('at', row), name: 'at', label: tray.at, type: 'time', value: typed.at, isRequired: true })}
${when(withMinutes, () => minutesField(tray, row, typed))}`;

const minutesField = (tray: TrayTexts, row: TrayRow, typed: Fields): Markup =>
  field({
    id: idOf('minutes', row),
    name: 'minutes',
    label: tray.minutes,
    value: typed.minutes,
    inputmode: 'numeric',
    isShort: true,
    isRequired: true,
  });
