import { max } from 'd3-array';
import { scaleBand, scaleLinear } from 'd3-scale';
import { html } from 'hono/html';
import type { MonthVisits } from '../../core/ledger/benchYear.js';
import { dateFormat } from '../../languages/formats.js';
import type { Markup } from '../markup.js';
import type { Voice } from '../viewer.js';
import { legendBox, plotFigure, px } from './frame.js';

const Y_TICKS = 4;

/** Returns the units serviced in each month as a figure, those over their interval as the lower part of the bar. */
export function visitsPlot(months: readonly MonthVisits[], voice: Voice): Markup {
  const says = voice.texts.benchYear.months;
  const { words } = voice;
  const nameOf = (from: string, month: 'short' | 'long'): string =>
    dateFormat(words.locale, { month, year: '2-digit', timeZone: 'UTC' }).format(
      Date.parse(`${from}T00:00:00Z`),
    );
  const told = months
    .map(({ from, visits, over }) =>
      says.month(nameOf(from, 'long'), words.number(visits), words.number(over)),
    )
    .join(' ');
  const most = Math.max(Y_TICKS, max(months, ({ visits }) => visits) ?? 0);
  const legend = [legendBox('range', says.legend.visits), legendBox('flag', says.legend.over)];
  return plotFigure(
    { title: says.title, says: told, up: says.axis, across: says.across, legend },
    ({ name, left, right, top, bottom }) => {
      const x = scaleBand<number>(
        months.map((_, i) => i),
        [left, right],
      ).padding(0.25);
      const y = scaleLinear([0, most], [bottom, top]).nice(Y_TICKS);
      const bar = (i: number, count: number, drawn: string): Markup =>
        html`<rect class="${drawn}" x="${px(x(i)!)}" y="${px(y(count))}" width="${px(x.bandwidth())}" height="${px(bottom - y(count))}"/>`;
      const labelled = name === 'wide' ? 1 : 3;
      return {
        rows: y
          .ticks(Y_TICKS)
          .filter(Number.isInteger)
          .map((count) => ({ at: y(count), label: words.number(count) })),
        columns: months.flatMap(({ from }, i) =>
          (months.length - 1 - i) % labelled === 0
            ? [{ at: x(i)! + x.bandwidth() / 2, label: nameOf(from, 'short') }]
            : [],
        ),
        marks: html`${months.map(({ visits, over }, i) => html`${bar(i, visits, 'range')}${bar(i, over, 'flag')}`)}`,
      };
    },
  );
}
