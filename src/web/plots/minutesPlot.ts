import { max } from 'd3-array';
import { scaleBand, scaleLinear } from 'd3-scale';
import { html } from 'hono/html';
import type { BenchWeek } from '../../core/plan/benchWeeks.js';
import { dateFormat } from '../../languages/formats.js';
import { minutesText } from '../cells/planCells.js';
import type { Markup } from '../markup.js';
import type { Viewer } from '../viewer.js';
import { legendBox, legendLine, plotFigure, px } from './frame.js';

const Y_TICKS = 4;
/** Minutes a picture reaches up to at least. */
const LEAST_TOP = 60;
/** So many dates stand on the axis. */
const MOST_LABELS = { wide: 8, slim: 4 } as const;

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
  const most = topOf(weeks);
  const above = weeks.filter(({ usableMinutes }) => usableMinutes > most).length;
  const legend = [
    legendBox('range', load.legend.range),
    legendLine('mark', load.legend.mean),
    legendLine('bound', above === 0 ? load.legend.usable : load.legend.usableAbove(above)),
  ];
  return plotFigure(
    { title: load.plotTitle, says, up: load.axis, across: load.across, legend },
    ({ name, left, right, top, bottom }) => {
      const x = scaleBand<number>(
        weeks.map((_, i) => i),
        [left, right],
      ).paddingInner(0.25);
      const y = scaleLinear([0, most], [bottom, top]).nice(Y_TICKS);
      const labelled = Math.ceil(weeks.length / MOST_LABELS[name]);
      const wide = x.bandwidth();
      return {
        rows: y.ticks(Y_TICKS).map((tick) => ({ at: y(tick), label: minutes(tick) })),
        columns: weeks.flatMap((week, i) =>
          i % labelled === 0 ? [{ at: x(i)! + wide / 2, label: dateText(week, viewer) }] : [],
        ),
        marks: html`${weeks.map(({ minutes: { p10, p90, mean }, usableMinutes }, i) => {
          const from = x(i)!;
          return html`<rect class="range" x="${px(from)}" y="${px(y(p90))}" width="${px(wide)}" height="${px(Math.max(1, y(p10) - y(p90)))}"/>
<path class="mark" d="M${px(from)} ${px(y(mean))}h${px(wide)}"/>${usableMinutes > most ? '' : html`<path class="bound" d="M${px(from - 3)} ${px(y(usableMinutes))}h${px(wide + 6)}"/>`}`;
        })}`,
      };
    },
  );
}

/** Minutes at the top of the picture: all bars, and the line where it is at most twice as high as they are. */
function topOf(weeks: readonly BenchWeek[]): number {
  const bars = Math.max(LEAST_TOP, max(weeks, ({ minutes }) => minutes.p90) ?? 0);
  const line = max(weeks, ({ usableMinutes }) => usableMinutes) ?? 0;
  return Math.max(bars, line <= 2 * bars ? line : 0);
}

const dateText = ({ from }: BenchWeek, { words }: Viewer): string =>
  dateFormat(words.locale, { day: 'numeric', month: 'short', timeZone: 'UTC' }).format(
    Date.parse(`${from}T00:00:00Z`),
  );
