import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { html } from 'hono/html';
import type { ClimbsAsked } from '../../flow/rides/listClimbs.js';
import { hoursOfSeconds, type Instant, SECOND_MS, seconds } from '../../units.js';
import type { Markup } from '../markup.js';
import type { Voice } from '../viewer.js';

const WIDTH = 350;
const HEIGHT = 150;
const MARGIN = { top: 22, right: 10, bottom: 26, left: 52 };
const X_TICKS = 5;
/** A flat ride must not look like mountains. Units: metres. */
const LEAST_RELIEF_M = 60;

/** Returns the day's heights by hours since its start, its climbs numbered; a climb that counts as not ridden is drawn in dashes. */
export function climbPlot(
  { startAt, heights, climbs }: ClimbsAsked,
  says: string,
  { words }: Pick<Voice, 'words'>,
): Markup | null {
  const known = heights.eleM.flatMap((eleM, i) => (eleM === null ? [] : [{ s: i * heights.everyS, eleM }]));
  if (known.length < 2) return null;
  const [low, high] = extent(known, ({ eleM }) => eleM) as [number, number];
  const x = scaleLinear([0, known.at(-1)!.s], [MARGIN.left, WIDTH - MARGIN.right]);
  const middle = (low + high) / 2;
  const half = Math.max(LEAST_RELIEF_M, high - low) / 2;
  const y = scaleLinear([middle - half, middle + half], [HEIGHT - MARGIN.bottom, MARGIN.top]);
  const way = line<(typeof known)[number]>(
    ({ s }) => x(s),
    ({ eleM }) => y(eleM),
  );
  const hours = x.copy().domain([0, hoursOfSeconds(seconds(known.at(-1)!.s))]);
  const metres = (m: number): string => `${words.number(Math.round(m))}\u00a0m`;
  const since = (at: Instant): number => (at - startAt) / SECOND_MS;
  const parts = climbs.map((climb) => {
    const from = since(climb.at);
    const points = known.filter(({ s }) => s >= from && s <= from + climb.seconds);
    return { climb, points, at: x(from + climb.seconds / 2) };
  });
  return html`<figure class="plot">
<svg class="day" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${says}">
<text class="axis" x="${MARGIN.left - 6}" y="${y(low)}" text-anchor="end">${metres(low)}</text>
<text class="axis" x="${MARGIN.left - 6}" y="${y(high) + 4}" text-anchor="end">${metres(high)}</text>
${hours
  .ticks(X_TICKS)
  .map(
    (tick) =>
      html`<path class="rule" d="M${hours(tick)} ${HEIGHT - MARGIN.bottom}v5"/><text class="axis" x="${hours(tick)}" y="${HEIGHT - 6}" text-anchor="middle">${words.hours(tick)}</text>`,
  )}
<path class="line" fill="none" stroke="currentColor" stroke-width="1" d="${way(known) ?? ''}"/>
${parts.map(
  ({
    climb,
    points,
    at,
  }) => html`<path fill="none" stroke="currentColor" stroke-width="4"${climb.isRidden ? '' : html` stroke-dasharray="4 4"`} d="${way(points) ?? ''}"/>
<text class="axis" x="${at}" y="14" text-anchor="middle">${climb.number}</text>`,
)}
</svg></figure>`;
}
