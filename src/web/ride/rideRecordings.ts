import { html } from 'hono/html';
import { qualityWord } from '../../core/ledger/explain.js';
import type { RideRecording } from '../../flow/rides/getRide.js';
import { hoursOfSeconds } from '../../units.js';
import { small } from '../cells/dueCells.js';
import { type Markup, NOTHING, table, when } from '../markup.js';
import { timeText, twoDecimals } from '../show.js';
import type { Viewer } from '../viewer.js';

/** Returns the recordings that a ride was made from, and what each gives to it. */
export function recordingsMarkup(viewer: Viewer, recordings: readonly RideRecording[]): Markup {
  const { ride } = viewer.texts;
  const columns = ride.recordings;
  if (recordings.length === 0) return NOTHING;
  return html`<h2>${ride.recordingsTitle}</h2>
${table(
  [columns.file, columns.start, columns.moving, columns.quality, columns.place].map((label) => ({ label })),
  recordings.map((one) => ({
    head: html`<span class="long">${one.file}</span>${small(one.format.toUpperCase())}`,
    cells: [
      html`${one.start === null ? ride.noTime : timeText(one.start, viewer)}`,
      html`${viewer.words.hours(hoursOfSeconds(one.movingS))}`,
      html`${qualityText(viewer, one.quality)}`,
      html`${ride.place[one.place]}${small(one.damage === null ? null : ride.damaged)}${small(one.isKept ? ride.formerReader : null)}`,
    ],
  })),
)}`;
}

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
