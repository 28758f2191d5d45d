import { scaleLinear } from 'd3-scale';
import { html } from 'hono/html';
import { startOfDay } from '../../core/days/calendar.js';
import { type ClockRead, isOver, OVER, type ServicedUnit } from '../../core/ledger/benchYear.js';
import { DAY_MS, type Day } from '../../units.js';
import { percentText } from '../cells/planCells.js';
import { type Markup, when } from '../markup.js';
import type { Viewer } from '../viewer.js';
import { legendDot, legendLine, plotFigure, px } from './frame.js';
import { monthTicks } from './monthTicks.js';

const Y_TICKS = 5;
/** Nobody tells more dots apart; the last are shown. */
const MOST_DOTS = 400;
/** Of the interval: what lies further up is drawn at the edge. */
const [LEAST_TOP, MOST_TOP] = [1.5, 3];
const BESIDE_MS = 10 * DAY_MS;

type Read = ServicedUnit & { readonly clock: ClockRead };

/** Returns each unit on the day of its service by how much of its interval it had used; nothing where none was counted. */
export function usedPlot(visits: readonly ServicedUnit[], begunOn: Day | null, viewer: Viewer): Markup {
  const { words, zone, today } = viewer;
  const { used } = viewer.texts.benchYear;
  const read = visits.filter((visit): visit is Read => visit.clock !== null).slice(-MOST_DOTS);
  if (read.length === 0) return html``;
  const ms = (day: Day): number => startOfDay(day, zone);
  const span = [ms(read[0]!.on) - BESIDE_MS, ms(today) + BESIDE_MS] as const;
  const most = Math.min(MOST_TOP, Math.max(LEAST_TOP, ...read.map(({ clock }) => clock.share)));
  const further = read.filter(({ clock }) => clock.share > MOST_TOP).length;
  const over = read.filter(({ clock }) => isOver(clock)).length;
  const legend = [
    legendDot('dot dark', html`${used.legend.dark}`),
    legendDot('dot', html`${used.legend.other}${when(further > 0, () => html`; ${used.further(further)}`)}`),
    legendLine('bound', used.legend.whole),
    legendLine('middle', used.legend.over),
  ];
  const says = used.says(words.number(read.length), words.number(over));
  return plotFigure(
    { title: used.title, says, up: used.axis, across: used.across, legend },
    ({ left, right, top, bottom, ticks }) => {
      const x = scaleLinear(span, [left, right]);
      const y = scaleLinear([0, most], [bottom, top]).nice(Y_TICKS);
      const began = begunOn === null || ms(begunOn) < span[0] ? null : x(ms(begunOn));
      return {
        rows: y.ticks(Y_TICKS).map((share) => ({ at: y(share), label: percentText(share, viewer) })),
        columns: monthTicks(span[0], x.invert(right - 14), ticks, words.locale).map((tick) => ({
          ...{ at: x(tick.ms), label: tick.label },
        })),
        marks: html`${when(began !== null, () => html`<path class="seen" d="M${px(began!)} ${bottom}V${top - 6}"/><text x="${px(Math.max(left + 60, Math.min(began!, right - 60)))}" y="${top - 10}" text-anchor="middle">${used.began}</text>`)}
<path class="bound" d="M${left} ${px(y(1))}H${right}"/><path class="middle" d="M${left} ${px(y(OVER))}H${right}"/>
${read.map(
  ({ on, clock, isDark }) =>
    html`<circle class="${isDark ? 'dot dark' : 'dot'}" cx="${px(x(ms(on)))}" cy="${px(y(Math.min(y.domain()[1]!, clock.share)))}" r="3.5"/>`,
)}`,
      };
    },
  );
}
