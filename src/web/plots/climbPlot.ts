import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { html } from 'hono/html';
import type { ClimbsAsked } from '../../flow/rides/listClimbs.js';
import { hoursOfSeconds, type Instant, SECOND_MS, seconds } from '../../units.js';
import type { Markup } from '../markup.js';
import type { Voice } from '../viewer.js';
import { plotFigure, px } from './frame.js';

/** A flat ride must not look like mountains. Units: metres. */
const LEAST_RELIEF_M = 60;

/** Returns the day's heights by hours since its start, its climbs numbered; a climb that counts as not ridden is drawn in dashes. */
export function climbPlot(
  { startAt, heights, climbs }: ClimbsAsked,
  says: string,
  { texts, words }: Pick<Voice, 'texts' | 'words'>,
): Markup | null {
  const known = heights.eleM.flatMap((eleM, i) => (eleM === null ? [] : [{ s: i * heights.everyS, eleM }]));
  if (known.length < 2) return null;
  const [low, high] = extent(known, ({ eleM }) => eleM) as [number, number];
  const [middle, half] = [(low + high) / 2, Math.max(LEAST_RELIEF_M, high - low) / 2];
  const metres = (m: number): string => `${words.number(Math.round(m))}\u00a0m`;
  const since = (at: Instant): number => (at - startAt) / SECOND_MS;
  const drawn = (isRidden: boolean): Markup =>
    html`fill="none" stroke="currentColor" stroke-width="4"${isRidden ? '' : html` stroke-dasharray="4 4"`}`;
  const { climbs: told } = texts.tray;
  const legend = [true, false]
    .filter((isRidden) => climbs.some((climb) => climb.isRidden === isRidden))
    .map(
      (isRidden) =>
        html`<svg width="24" height="12" aria-hidden="true"><path ${drawn(isRidden)} d="M0 6H24"/></svg>${isRidden ? told.legend.ridden : told.legend.notRidden}`,
    );
  return plotFigure(
    { title: told.plotTitle, says, up: texts.ride.plotUp, across: told.across, legend },
    ({ left, right, top, bottom, ticks }) => {
      const x = scaleLinear([0, known.at(-1)!.s], [left, right]);
      const y = scaleLinear([middle - half, middle + half], [bottom, top]);
      const hours = x.copy().domain([0, hoursOfSeconds(seconds(known.at(-1)!.s))]);
      const way = line<(typeof known)[number]>(
        ({ s }) => x(s),
        ({ eleM }) => y(eleM),
      ).digits(1);
      const parts = climbs.map((climb) => {
        const from = since(climb.at);
        const points = known.filter(({ s }) => s >= from && s <= from + climb.seconds);
        return html`<path ${drawn(climb.isRidden)} d="${way(points) ?? ''}"/>
<text x="${px(x(from + climb.seconds / 2))}" y="${top - 4}" text-anchor="middle">${climb.number}</text>`;
      });
      return {
        rows: [low, high].map((m) => ({ at: y(m), label: metres(m) })),
        columns: hours.ticks(ticks).map((tick) => ({ at: hours(tick), label: words.hours(tick) })),
        marks: html`<path class="line" fill="none" stroke="currentColor" stroke-width="1" d="${way(known) ?? ''}"/>
${parts}`,
      };
    },
  );
}
