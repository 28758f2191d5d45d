import { scaleLinear } from 'd3-scale';
import { html } from 'hono/html';
import { startOfDay } from '../../core/days/calendar.js';
import { type ClockRead, isOver, OVER, type ServicedUnit } from '../../core/ledger/benchYear.js';
import { DAY_MS, type Day } from '../../units.js';
import { percentText } from '../cells/planCells.js';
import { type Markup, when } from '../markup.js';
import type { Viewer } from '../viewer.js';
import type { TickedFrame } from './frame.js';
import { monthTicks } from './monthTicks.js';

const FRAMES: readonly TickedFrame[] = [
  { name: 'wide', width: 760, height: 300, xTicks: 9 },
  { name: 'slim', width: 350, height: 270, xTicks: 4 },
];
const MARGIN = { top: 30, right: 12, bottom: 44, left: 56 };
const Y_TICKS = 5;
/** Nobody tells more dots apart; the last are shown. */
const MOST_DOTS = 400;
/** Of the interval: what lies further up is drawn at the edge. */
const [LEAST_TOP, MOST_TOP] = [1.5, 3];
const BESIDE_MS = 10 * DAY_MS;

type Read = ServicedUnit & { readonly clock: ClockRead };

/** Returns each unit on the day of its service by how much of its interval it had used; nothing where none was counted. */
export function usedPlot(visits: readonly ServicedUnit[], begunOn: Day | null, viewer: Viewer): Markup {
  const { used } = viewer.texts.benchYear;
  const read = visits.filter((visit): visit is Read => visit.clock !== null).slice(-MOST_DOTS);
  if (read.length === 0) return html``;
  const over = read.filter(({ clock }) => isOver(clock)).length;
  const further = read.filter(({ clock }) => clock.share > MOST_TOP).length;
  const says = used.says(viewer.words.number(read.length), viewer.words.number(over));
  return html`<figure class="plot"><figcaption>${used.title}</figcaption>
${FRAMES.map((frame) => picture(frame, read, begunOn, viewer, says))}
<ul class="legend">
<li><svg width="12" height="12" aria-hidden="true"><circle class="dot dark" cx="6" cy="6" r="4"/></svg>${used.legend.dark}</li>
<li><svg width="12" height="12" aria-hidden="true"><circle class="dot" cx="6" cy="6" r="4"/></svg>${used.legend.other}${when(further > 0, () => html`; ${used.further(further)}`)}</li>
<li><svg width="24" height="12" aria-hidden="true"><path class="bound" d="M0 6H24"/></svg>${used.legend.whole}</li>
<li><svg width="24" height="12" aria-hidden="true"><path class="middle" d="M0 6H24"/></svg>${used.legend.over}</li>
</ul></figure>`;
}

function picture(
  { name, width, height, xTicks }: TickedFrame,
  read: readonly Read[],
  begunOn: Day | null,
  viewer: Viewer,
  says: string,
): Markup {
  const { used } = viewer.texts.benchYear;
  const ms = (day: Day): number => startOfDay(day, viewer.zone);
  const [left, right, bottom] = [MARGIN.left, width - MARGIN.right, height - MARGIN.bottom];
  const span = [ms(read[0]!.on) - BESIDE_MS, ms(viewer.today) + BESIDE_MS] as const;
  const x = scaleLinear(span, [left, right]);
  const top = Math.min(MOST_TOP, Math.max(LEAST_TOP, ...read.map(({ clock }) => clock.share)));
  const y = scaleLinear([0, top], [bottom, MARGIN.top]).nice(Y_TICKS);
  const height0 = (share: number): string => y(Math.min(y.domain()[1]!, share)).toFixed(1);
  const began = begunOn === null || ms(begunOn) < span[0] ? null : x(ms(begunOn));
  return html`<svg class="${name}" viewBox="0 0 ${width} ${height}" role="img" aria-label="${used.title}. ${says}">
<text x="0" y="14">${used.axis}</text>
${y.ticks(Y_TICKS).map(
  (share) => html`<path class="rule" d="M${left} ${y(share).toFixed(1)}H${right}"/>
<text x="${left - 8}" y="${(y(share) + 4).toFixed(1)}" text-anchor="end">${percentText(share, viewer)}</text>`,
)}
${monthTicks(span[0], x.invert(right - 14), xTicks, viewer.words.locale).map(
  ({ ms: at, label }) =>
    html`<path class="rule" d="M${x(at).toFixed(1)} ${bottom}v5"/><text x="${x(at).toFixed(1)}" y="${bottom + 18}" text-anchor="middle">${label}</text>`,
)}
<text x="${right}" y="${height - 6}" text-anchor="end">${used.across}</text>
${when(began !== null, () => html`<path class="seen" d="M${began!.toFixed(1)} ${bottom}V${MARGIN.top - 6}"/><text x="${Math.max(left + 60, Math.min(began!, right - 60)).toFixed(1)}" y="${MARGIN.top - 10}" text-anchor="middle">${used.began}</text>`)}
<path class="bound" d="M${left} ${y(1).toFixed(1)}H${right}"/><path class="middle" d="M${left} ${y(OVER).toFixed(1)}H${right}"/>
${read.map(
  ({ on, clock, isDark }) =>
    html`<circle class="${isDark ? 'dot dark' : 'dot'}" cx="${x(ms(on)).toFixed(1)}" cy="${height0(clock.share)}" r="3.5"/>`,
)}
</svg>`;
}
