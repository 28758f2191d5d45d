import { scaleLinear } from 'd3-scale';
import { curveStepAfter, line } from 'd3-shape';
import { html } from 'hono/html';
import { type Lesson, SHARE_DARK } from '../../core/ledger/findingsTeach.js';
import { percentText } from '../cells/planCells.js';
import { type Markup, when } from '../markup.js';
import type { Voice } from '../viewer.js';
import { legendBox, legendLine, plotFigure, px } from './frame.js';

/** Returns the share gone dark by terrain hours as a figure: its steps, and the range of the suggested interval. */
export function darkPlot({ steps, nineOfTen }: Lesson, voice: Voice): Markup {
  const { findings } = voice.texts.plan;
  const { words } = voice;
  const percent = (share: number): string => percentText(share, voice);
  const says = findings.plotSays(
    steps.map(({ hours, share }) => findings.plotStep(words.hours(hours), percent(share))).join('; '),
    nineOfTen === null ? null : findings.plotRange(words.hours(nineOfTen.low), words.hours(nineOfTen.high)),
  );
  // What is said of the range is in the picture.
  const most = 1.1 * Math.max(steps.at(-1)?.hours ?? 0, nineOfTen?.high ?? 0);
  const legend = [
    legendLine('mark', findings.legend.share),
    legendLine('bound', findings.legend.tenth),
    ...(nineOfTen === null ? [] : [legendBox('range', findings.legend.range)]),
  ];
  return plotFigure(
    { title: findings.plotTitle, says, up: findings.up, across: findings.axis, legend },
    ({ left, right, top, bottom, ticks }) => {
      const x = scaleLinear([0, most], [left, right]);
      const y = scaleLinear([0, 1], [bottom, top]);
      const path = line<{ hours: number; share: number }>(
        (step) => x(step.hours),
        (step) => y(step.share),
      )
        .digits(1)
        .curve(curveStepAfter)([
        { hours: 0, share: 0 },
        ...steps,
        { hours: most, share: steps.at(-1)?.share ?? 0 },
      ]);
      return {
        rows: [0, 0.25, 0.5, 0.75, 1].map((share) => ({ at: y(share), label: percent(share) })),
        columns: x.ticks(ticks).map((hours) => ({ at: x(hours), label: words.hours(hours) })),
        marks: html`${when(nineOfTen !== null, () => html`<rect class="range" x="${px(x(nineOfTen!.low))}" y="${top}" width="${px(Math.max(1, x(nineOfTen!.high) - x(nineOfTen!.low)))}" height="${bottom - top}"/>`)}
<path class="bound" d="M${left} ${px(y(SHARE_DARK))}H${right}"/>
<path class="mark" d="${path}"/>`,
      };
    },
  );
}
