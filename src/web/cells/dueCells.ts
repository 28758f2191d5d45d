import { html } from 'hono/html';
import { dayOf } from '../../core/days/calendar.js';
import { isStrong } from '../../core/states.js';
import type { DueRow } from '../../flow/due/listDue.js';
import type { NamedRow } from '../../flow/due/namedRows.js';
import type { RideRow } from '../../ports/rides.js';
import { type Markup, NOTHING } from '../markup.js';
import { likelyText, limitsText, timeText } from '../show.js';
import type { Viewer } from '../viewer.js';
import { declaredPart } from './declaredFields.js';

export const small = (text: string | null): Markup =>
  text === null || text === '' ? NOTHING : html`<small>${text}</small>`;

export const pathOfUnit = (tag: string): string => `/units/${encodeURIComponent(tag)}`;

/** The day of a ride, leading to its page. Shape: a ride with a day. */
export const rideLink = ({ words, today }: Viewer, { id, day }: Pick<RideRow, 'id' | 'day'>): Markup =>
  html`<a href="/rides/${encodeURIComponent(id)}">${words.day(day!, today)}</a>`;

export const unitCell = ({ words }: Viewer, row: Pick<DueRow, 'unit' | 'unitKind' | 'model'>): Markup =>
  html`<a href="${pathOfUnit(row.unit)}">${row.unit}</a>${small(
    `${words.unitKind[row.unitKind]}${row.model === null ? '' : `, ${row.model}`}`,
  )}`;

/** A unit that must not be ridden stands in a box, with the reason where somebody wrote one. */
export const stopBox = ({ words }: Viewer, why: string | null): Markup =>
  html`<span class="stop"><strong>${words.state['stop-riding']}</strong>${small(why)}</span>`;

export const stateCell = (
  viewer: Viewer,
  { state, stopWhy = null }: Pick<DueRow, 'state'> & { readonly stopWhy?: string | null },
): Markup => (state === 'stop-riding' ? stopBox(viewer, stopWhy) : stateText(viewer, state));

/** The bare word, where the box stands above already. */
export const stateText = ({ words }: Viewer, state: DueRow['state']): Markup =>
  isStrong(state) ? html`<strong>${words.state[state]}</strong>` : html`${words.state[state]}`;

export function likelyCell(viewer: Viewer, row: DueRow): Markup {
  const { middle, range } = likelyText(row.likely, viewer);
  const isOld = dayOf(row.asOf, viewer.zone) < viewer.today;
  const asOf = isOld ? viewer.texts.due.asOfRow(timeText(row.asOf, viewer)) : null;
  return html`${middle}${small(range)}${small(asOf)}`;
}

export function terrainCell({ words, texts }: Viewer, row: DueRow): Markup {
  const since = words.measured(row.terrainHoursSince);
  const limit = row.interval.terrainHours;
  const left = row.hoursLeft;
  const isUnknown = row.state === 'history-unknown';
  const rest =
    left === null
      ? null
      : left >= 0
        ? texts.due.left(words.measured(left))
        : texts.due.over(words.measured(-left));
  const told = limit === null || isUnknown ? since : texts.due.of(since, words.hours(limit));
  return html`<span class="nobr">${told}</span>${small(isUnknown ? texts.due.sinceItCame : rest)}${small(
    declaredPart({ words, texts }, row.declaredHours, row.terrainHoursSince),
  )}`;
}

export function movingCell({ words, texts }: Viewer, row: DueRow): Markup {
  const since = words.measured(row.movingHoursSince);
  const ceiling = row.interval.movingHoursCeiling;
  const hasLimit = ceiling !== null && row.state !== 'history-unknown';
  const waiting = row.waitingHours > 0 ? texts.due.waiting(words.measured(row.waitingHours)) : null;
  const told = hasLimit ? texts.due.of(since, words.hours(ceiling)) : since;
  return html`<span class="nobr">${told}</span>${small(waiting)}`;
}

export function intervalCell(viewer: Viewer, row: DueRow): Markup {
  const { words, texts } = viewer;
  const { terrainHours, months, movingHoursCeiling, rule } = row.interval;
  // The ceiling stands in the column of moving hours already.
  const ceiling = terrainHours === null && months === null ? movingHoursCeiling : null;
  const limits = limitsText({ terrainHours, months, movingHoursCeiling: ceiling }, viewer);
  return html`${limits}${small(texts.due.first[row.limit])}${small(rule === 'kind' ? null : words.intervalRule[rule])}`;
}

export const whoCell = (
  { texts }: Viewer,
  row: Pick<NamedRow, 'bikeId' | 'bike' | 'bikeName' | 'riderName'>,
): Markup =>
  row.bikeId === null
    ? html`${texts.due.noBike}${small(row.riderName)}`
    : html`${row.bikeName ?? row.bike}${small(row.riderName ?? texts.due.noRider)}`;
