import { html } from 'hono/html';
import { qualityWord } from '../../core/ledger/explain.js';
import type { RidePage, RideRecording } from '../../flow/rides/getRide.js';
import { hoursOfSeconds, secondsIn } from '../../units.js';
import { small } from '../cells/dueCells.js';
import { formToken } from '../layout.js';
import { columnsOf, type Markup, NOTHING, table, when } from '../markup.js';
import { timeText, twoDecimals } from '../show.js';
import type { Viewer } from '../viewer.js';

/** Returns the recordings that a ride was made from, and what each gives to it. */
export function recordingsMarkup(viewer: Viewer, { ride: row, recordings, apart }: RidePage): Markup {
  const { ride } = viewer.texts;
  const columns = ride.recordings;
  if (recordings.length === 0) return NOTHING;
  return html`<h2>${ride.recordingsTitle}</h2>
${table(
  columnsOf([columns.file, columns.start, columns.moving, columns.quality, columns.place], [columns.moving]),
  recordings.map((one) => ({
    head: html`<span class="long">${one.file}</span>${small(one.format.toUpperCase())}`,
    cells: [
      html`${one.start === null ? ride.noTime : timeText(one.start, viewer)}${small(one.shiftMs === 0 ? null : ride.clockOff(viewer.words.hours(hoursOfSeconds(secondsIn(Math.abs(one.shiftMs))))))}`,
      html`${viewer.words.measured(hoursOfSeconds(one.movingS))}`,
      html`${qualityText(viewer, one.quality)}`,
      html`${ride.place[one.place]}${small(one.damage === null ? null : ride.damaged)}${small(one.isKept ? ride.formerReader : null)}${when(recordings.length > 1 && isDaily(viewer), () => say(viewer, row.id, 'apart', one.readingId, ride.setApart))}`,
    ],
  })),
)}
${when(
  apart.length > 0 && isDaily(viewer),
  () => html`<h3>${ride.apartTitle}</h3>
${apart.map(({ id, start }) => html`<p><a href="/rides/${id}">${start === null ? ride.noTime : timeText(start, viewer)}</a></p>${say(viewer, row.id, 'with', id, ride.makeOne)}`)}`,
)}`;
}

/** A mechanic looks, and says nothing of joinings. */
const isDaily = ({ account }: Viewer): boolean => account.role !== 'mechanic';

const say = (
  viewer: Viewer,
  rideId: string,
  what: 'apart' | 'with',
  about: string,
  label: string,
): Markup => html`
<form class="row" method="post" action="/tray/${rideId}">${formToken(viewer)}<input type="hidden" name="say" value="${what}">
<input type="hidden" name="about" value="${about}"><div class="field"><button>${label}</button></div></form>`;

/** Returns what was seen and handled while the files were read, in words; nothing where nothing was odd. */
export function notesMarkup({ texts, words }: Viewer, recordings: readonly RideRecording[]): Markup {
  const { ride } = texts;
  const noted = recordings.filter(({ notes }) => notes.length > 0);
  if (noted.length === 0) return NOTHING;
  return html`<h2>${ride.notesTitle}</h2>
${noted.map(
  ({
    file,
    notes,
  }) => html`${when(recordings.length > 1, () => html`<p class="long">${ride.noteIn(file)}</p>`)}
<ul>${notes.map(
    ({ code, count }) =>
      html`<li>${ride.notes[code] ?? code}${count > 1 ? ` (${words.number(count)})` : ''}.</li>`,
  )}</ul>`,
)}`;
}

export function qualityText(viewer: Viewer, quality: number | null): string {
  const { ride } = viewer.texts;
  const word = ride.qualityOf[qualityWord(quality)];
  return quality === null ? word : ride.qualityValue(word, twoDecimals(quality, viewer));
}
