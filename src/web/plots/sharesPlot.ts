import { scaleLinear, scalePoint } from 'd3-scale';
import { html } from 'hono/html';
import type { ShareRange } from '../../core/chance/shares.js';
import { percentText } from '../cells/planCells.js';
import type { Markup } from '../markup.js';
import { capitalised } from '../show.js';
import type { Voice } from '../viewer.js';
import { legendBox, legendLine, plotFigure, px } from './frame.js';

const HALF_MARK = 10;

/** A share on both sides. */
export interface BothShares {
  readonly what: 'dark' | 'over';
  readonly before: ShareRange;
  readonly since: ShareRange;
}

/** Returns shares before and since reminders began as a figure: a bar for the range, a line for what was seen. */
export function sharesPlot(pairs: readonly BothShares[], voice: Voice): Markup {
  const { shares } = voice.texts.benchYear;
  const bars = pairs.flatMap(({ what, before, since }) => [
    { what: shares[what], when: shares.before, ...before },
    { what: shares[what], when: shares.since, ...since },
  ]);
  const percent = (share: number): string => percentText(share, voice);
  const says = bars
    .map(({ what, when, share, low, high }) =>
      shares.says(capitalised(what), when, percent(share), percent(low), percent(high)),
    )
    .join(' ');
  const legend = [legendLine('mark', shares.legend.share), legendBox('range', shares.legend.range)];
  return plotFigure(
    { title: shares.title, says, up: shares.axis, across: null, legend },
    ({ left, right, top, bottom }) => {
      const x = scalePoint<number>(
        bars.map((_, i) => i),
        [left, right],
      ).padding(0.6);
      const y = scaleLinear([0, 1], [bottom, top]);
      return {
        rows: [0, 0.25, 0.5, 0.75, 1].map((share) => ({ at: y(share), label: percent(share) })),
        columns: bars.map(({ when }, i) => ({ at: x(i)!, label: when })),
        marks: html`${bars.map(({ share, low, high }, i) => {
          const at = x(i)!;
          return html`<rect class="range" x="${px(at - HALF_MARK)}" y="${px(y(high))}" width="${2 * HALF_MARK}" height="${px(Math.max(1, y(low) - y(high)))}"/>
<path class="mark" d="M${px(at - 1.6 * HALF_MARK)} ${px(y(share))}h${3.2 * HALF_MARK}"/>`;
        })}
${pairs.map(
  ({ what }, i) =>
    html`<text x="${px((x(2 * i)! + x(2 * i + 1)!) / 2)}" y="${bottom + 36}" text-anchor="middle">${shares[what]}</text>`,
)}`,
      };
    },
  );
}
