import { max } from 'd3-array';
import { scaleBand, scaleLinear } from 'd3-scale';
import { html } from 'hono/html';
import type { MonthVisits } from '../../core/ledger/benchYear.js';
import { dateFormat } from '../../languages/formats.js';
import type { Markup } from '../markup.js';
import type { Voice } from '../viewer.js';
import type { Frame } from './frame.js';

interface MonthsFrame extends Frame {
  /** Every so many months has its name written. */
  readonly labelled: number;
}
const FRAMES: readonly MonthsFrame[] = [
  { name: 'wide', width: 760, height: 260, labelled: 1 },
  { name: 'slim', width: 350, height: 240, labelled: 3 },
];
const MARGIN = { top: 30, right: 12, bottom: 44, left: 40 };
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
  return html`<figure class="plot"><figcaption>${says.title}</figcaption>
${FRAMES.map(({ name, width, height, labelled }) => {
  const [left, right, bottom] = [MARGIN.left, width - MARGIN.right, height - MARGIN.bottom];
  const x = scaleBand<number>(
    months.map((_, i) => i),
    [left, right],
  ).padding(0.25);
  const y = scaleLinear([0, most], [bottom, MARGIN.top]).nice(Y_TICKS);
  const wide = x.bandwidth().toFixed(1);
  return html`<svg class="${name}" viewBox="0 0 ${width} ${height}" role="img" aria-label="${says.title}. ${told}">
<text x="0" y="14">${says.axis}</text>
${y
  .ticks(Y_TICKS)
  .filter(Number.isInteger)
  .map(
    (tick) => html`<path class="rule" d="M${left} ${y(tick).toFixed(1)}H${right}"/>
<text x="${left - 8}" y="${(y(tick) + 4).toFixed(1)}" text-anchor="end">${words.number(tick)}</text>`,
  )}
${months.map(({ from, visits, over }, i) => {
  const at = (x(i) ?? left).toFixed(1);
  const middle = ((x(i) ?? left) + x.bandwidth() / 2).toFixed(1);
  return html`<rect class="range" x="${at}" y="${y(visits).toFixed(1)}" width="${wide}" height="${(bottom - y(visits)).toFixed(1)}"/>
<rect class="flag" x="${at}" y="${y(over).toFixed(1)}" width="${wide}" height="${(bottom - y(over)).toFixed(1)}"/>
${(months.length - 1 - i) % labelled === 0 ? html`<text x="${middle}" y="${bottom + 18}" text-anchor="middle">${nameOf(from, 'short')}</text>` : ''}`;
})}
<text x="${right}" y="${height - 6}" text-anchor="end">${says.across}</text>
</svg>`;
})}
<ul class="legend">
<li><svg width="18" height="12" aria-hidden="true"><rect class="range" width="18" height="12"/></svg>${says.legend.visits}</li>
<li><svg width="18" height="12" aria-hidden="true"><rect class="flag" width="18" height="12"/></svg>${says.legend.over}</li>
</ul></figure>`;
}
