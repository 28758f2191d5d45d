import { scaleLinear, scalePoint } from 'd3-scale';
import { html } from 'hono/html';
import type { ShareRange } from '../../core/chance/shares.js';
import { percentText } from '../cells/planCells.js';
import type { Markup } from '../markup.js';
import { capitalised } from '../show.js';
import type { Voice } from '../viewer.js';
import type { Frame } from './frame.js';

const FRAMES: readonly Frame[] = [
  { name: 'wide', width: 760, height: 270 },
  { name: 'slim', width: 350, height: 270 },
];
const MARGIN = { top: 30, right: 12, bottom: 44, left: 56 };
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
  return html`<figure class="plot"><figcaption>${shares.title}</figcaption>
${FRAMES.map(({ name, width, height }) => {
  const [left, right, bottom] = [MARGIN.left, width - MARGIN.right, height - MARGIN.bottom];
  const x = scalePoint<number>(
    bars.map((_, i) => i),
    [left, right],
  ).padding(0.6);
  const y = scaleLinear([0, 1], [bottom, MARGIN.top]);
  return html`<svg class="${name}" viewBox="0 0 ${width} ${height}" role="img" aria-label="${shares.title}. ${says}">
<text x="0" y="14">${shares.axis}</text>
${[0, 0.25, 0.5, 0.75, 1].map(
  (share) => html`<path class="rule" d="M${left} ${y(share)}H${right}"/>
<text x="${left - 8}" y="${y(share) + 4}" text-anchor="end">${percent(share)}</text>`,
)}
${bars.map(({ when, share, low, high }, i) => {
  const at = x(i) ?? left;
  return html`<rect class="range" x="${at - HALF_MARK}" y="${y(high)}" width="${2 * HALF_MARK}" height="${Math.max(1, y(low) - y(high))}"/>
<path class="mark" d="M${at - 1.6 * HALF_MARK} ${y(share)}h${3.2 * HALF_MARK}"/>
<text x="${at}" y="${bottom + 18}" text-anchor="middle">${when}</text>`;
})}
${pairs.map(
  ({ what }, i) =>
    html`<text x="${((x(2 * i) ?? left) + (x(2 * i + 1) ?? left)) / 2}" y="${bottom + 36}" text-anchor="middle">${shares[what]}</text>`,
)}
</svg>`;
})}
<ul class="legend">
<li><svg width="18" height="12" aria-hidden="true"><path class="mark" d="M0 6H18"/></svg>${shares.legend.share}</li>
<li><svg width="18" height="12" aria-hidden="true"><rect class="range" width="18" height="12"/></svg>${shares.legend.range}</li>
</ul></figure>`;
}
