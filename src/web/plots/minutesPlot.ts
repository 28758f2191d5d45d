import { max } from 'd3-array';
import { scaleBand, scaleLinear } from 'd3-scale';
import { html } from 'hono/html';
import type { BenchWeek } from '../../core/plan/benchWeeks.js';
import { dateFormat } from '../../languages/formats.js';
import { minutesText } from '../cells/planCells.js';
import type { Markup } from '../markup.js';
import type { Viewer } from '../viewer.js';
import type { Frame } from './frame.js';

interface WeeksFrame extends Frame {
  /** Every so many weeks has its date written. */
  readonly labelled: number;
}
const FRAMES: readonly WeeksFrame[] = [
  { name: 'wide', width: 760, height: 260, labelled: 1 },
  { name: 'slim', width: 350, height: 240, labelled: 2 },
];
const MARGIN = { top: 12, right: 10, bottom: 30, left: 64 };
const Y_TICKS = 4;
/** Minutes a picture reaches up to at least. */
const LEAST_TOP = 60;
/** So many letters of a date stand on the axis. */
const LONGEST_LABELS = 8;

/**
 * Returns bench minutes by week as a figure: the range as a bar, the mean as a mark, what there is to use as a line.
 * The scale is made for the bars: a line far above them is told, not drawn.
 */
export function minutesPlot(weeks: readonly BenchWeek[], viewer: Viewer): Markup {
  const { load } = viewer.texts.plan;
  const minutes = (count: number): string => minutesText(count, viewer);
  const says = load.plotSays(
    weeks
      .map((week) =>
        load.plotWeek(
          viewer.words.day(week.from, viewer.today),
          minutes(week.minutes.mean),
          minutes(week.minutes.p10),
          minutes(week.minutes.p90),
          minutes(week.usableMinutes),
        ),
      )
      .join(' '),
  );
  const top = topOf(weeks);
  const above = weeks.filter(({ usableMinutes }) => usableMinutes > top).length;
  const { legend } = load;
  return html`<figure class="plot"><figcaption>${load.plotTitle}</figcaption>
${FRAMES.map((frame) => picture(frame, { weeks, top }, viewer, says))}
<ul class="legend">
<li><svg width="18" height="12" aria-hidden="true"><rect class="range" width="18" height="12"/></svg>${legend.range}</li>
<li><svg width="18" height="12" aria-hidden="true"><path class="mark" d="M0 6H18"/></svg>${legend.mean}</li>
<li><svg width="24" height="12" aria-hidden="true"><path class="bound" d="M0 6H24"/></svg>${above === 0 ? legend.usable : legend.usableAbove(above)}</li>
</ul></figure>`;
}

/** Minutes at the top of the picture: all bars, and the line where it is at most twice as high as they are. */
function topOf(weeks: readonly BenchWeek[]): number {
  const bars = Math.max(LEAST_TOP, max(weeks, ({ minutes }) => minutes.p90) ?? 0);
  const line = max(weeks, ({ usableMinutes }) => usableMinutes) ?? 0;
  return Math.max(bars, line <= 2 * bars ? line : 0);
}

function picture(
  frame: WeeksFrame,
  { weeks, top }: { readonly weeks: readonly BenchWeek[]; readonly top: number },
  viewer: Viewer,
  says: string,
): Markup {
  const { name, width, height } = frame;
  const { plotTitle } = viewer.texts.plan.load;
  const right = width - MARGIN.right;
  const x = scaleBand<number>(
    weeks.map((_, i) => i),
    [MARGIN.left, right],
  ).paddingInner(0.25);
  const y = scaleLinear([0, top], [height - MARGIN.bottom, MARGIN.top]).nice(Y_TICKS);
  const labelled = Math.max(frame.labelled, Math.ceil((weeks.length * frame.labelled) / LONGEST_LABELS));
  const wide = x.bandwidth();
  return html`<svg class="${name}" viewBox="0 0 ${width} ${height}" role="img" aria-label="${plotTitle}. ${says}">
${y.ticks(Y_TICKS).map(
  (tick) => html`<path class="rule" d="M${MARGIN.left} ${y(tick)}H${right}"/>
<text x="${MARGIN.left - 8}" y="${y(tick) + 4}" text-anchor="end">${minutesText(tick, viewer)}</text>`,
)}
${weeks.map((week, i) => {
  const left = x(i) ?? 0;
  const { p10, p90, mean } = week.minutes;
  return html`<rect class="range" x="${left}" y="${y(p90)}" width="${wide}" height="${Math.max(1, y(p10) - y(p90))}"/>
<path class="mark" d="M${left} ${y(mean)}h${wide}"/>${week.usableMinutes > top ? '' : html`<path class="bound" d="M${left - 3} ${y(week.usableMinutes)}h${wide + 6}"/>`}
${i % labelled === 0 ? html`<text x="${left + wide / 2}" y="${height - 10}" text-anchor="middle">${dateText(week, viewer)}</text>` : ''}`;
})}
</svg>`;
}

const dateText = ({ from }: BenchWeek, { words }: Viewer): string =>
  dateFormat(words.locale, { day: 'numeric', month: 'short', timeZone: 'UTC' }).format(
    Date.parse(`${from}T00:00:00Z`),
  );
