import { scaleLinear } from 'd3-scale';
import { curveStepAfter, line } from 'd3-shape';
import { html } from 'hono/html';
import { type Lesson, SHARE_DARK } from '../../core/ledger/findingsTeach.js';
import { percentText } from '../cells/planCells.js';
import type { Markup } from '../markup.js';
import type { Voice } from '../viewer.js';

const FRAMES = [
  { name: 'wide', width: 760, height: 280, ticks: 8 },
  { name: 'slim', width: 350, height: 250, ticks: 4 },
] as const;
type DarkFrame = (typeof FRAMES)[number];
const MARGIN = { top: 12, right: 16, bottom: 42, left: 56 };

/** Returns the share gone dark by terrain hours as a figure: its steps, and the range of the suggested interval. */
export function darkPlot(lesson: Lesson, voice: Voice): Markup {
  const { findings } = voice.texts.plan;
  const says = findings.plotSays(
    lesson.steps
      .map(({ hours, share }) => findings.plotStep(voice.words.hours(hours), percentText(share, voice)))
      .join('; '),
  );
  return html`<figure class="plot">${FRAMES.map((frame) => picture(frame, lesson, voice, says))}</figure>`;
}

function picture(
  { name, width, height, ticks }: DarkFrame,
  lesson: Lesson,
  voice: Voice,
  says: string,
): Markup {
  const { findings } = voice.texts.plan;
  const { steps, nineOfTen } = lesson;
  const [left, right, bottom] = [MARGIN.left, width - MARGIN.right, height - MARGIN.bottom];
  const most = (steps.at(-1)?.hours ?? 0) * 1.1;
  const x = scaleLinear([0, most], [left, right]);
  const y = scaleLinear([0, 1], [bottom, MARGIN.top]);
  const first = { hours: 0, share: 0 };
  const last = { hours: most, share: steps.at(-1)?.share ?? 0 };
  const path = line<{ hours: number; share: number }>(
    (step) => x(step.hours),
    (step) => y(step.share),
  ).curve(curveStepAfter)([first, ...steps, last]);
  const from = x(Math.min(most, nineOfTen?.low ?? most));
  const to = x(Math.min(most, nineOfTen?.high ?? most));
  return html`<svg class="${name}" viewBox="0 0 ${width} ${height}" role="img" aria-label="${findings.plotTitle}. ${says}">
${[0, 0.25, 0.5, 0.75, 1].map(
  (share) => html`<path class="rule" d="M${left} ${y(share)}H${right}"/>
<text x="${left - 8}" y="${y(share) + 4}" text-anchor="end">${percentText(share, voice)}</text>`,
)}
${x.ticks(ticks).map((hours) => html`<text x="${x(hours)}" y="${bottom + 18}" text-anchor="middle">${voice.words.number(hours)}</text>`)}
<text x="${right}" y="${height - 6}" text-anchor="end">${findings.axis}</text>
<rect class="range" x="${from}" y="${MARGIN.top}" width="${Math.max(1, to - from)}" height="${bottom - MARGIN.top}"/>
<path class="bound" d="M${left} ${y(SHARE_DARK)}H${right}"/>
<path class="mark" d="${path}"/>
</svg>`;
}
