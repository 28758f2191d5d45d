import { html } from 'hono/html';
import { groundAt, type WeighedClass } from '../../core/ledger/weight.js';
import { MINUTE_MS, msOf } from '../../units.js';
import type { Markup } from '../markup.js';
import { twoDecimals } from '../show.js';
import type { Voice } from '../viewer.js';

/** Returns moving time by severity class as a table, each time with a bar beside its number. */
export function classTable(classes: readonly WeighedClass[], voice: Voice): Markup {
  const { classes: texts } = voice.texts.ride;
  const longest = Math.max(...classes.map(({ movingS }) => movingS));
  const allS = classes.reduce((sum, { movingS }) => sum + movingS, 0);
  const weight = classes.reduce((sum, one) => sum + one.movingS * one.weight, 0) / allS;
  return html`<table class="classes">
<caption>${texts.caption}</caption>
<thead><tr><th scope="col" class="figure">${texts.severity}</th><th scope="col">${texts.ground}</th><th scope="col" class="figure">${texts.time}</th><th scope="col" class="figure">${texts.weight}</th></tr></thead>
<tbody>${classes.map(
    (
      one,
    ) => html`<tr><th scope="row" class="figure">${twoDecimals(one.rawSeverity, voice)}</th><td>${voice.words.ground[groundAt(one.rawSeverity)]}</td><td class="figure">${minutesText(one.movingS, voice)}${bar(one.movingS / longest)}</td><td class="figure">${twoDecimals(one.weight, voice)}</td></tr>
`,
  )}</tbody>
<tfoot><tr><th scope="row">${texts.all}</th><td></td><td class="figure">${minutesText(allS, voice)}</td><td class="figure">${twoDecimals(weight, voice)}</td></tr></tfoot>
</table>`;
}

/** Returns a length of time in minutes. Units: seconds. */
export function minutesText(s: number, { words, texts }: Voice): string {
  const minutes = Math.round(msOf(s) / MINUTE_MS);
  return minutes < 1 ? texts.ride.underMinute : `${words.number(minutes)}\u00a0min`;
}

const bar = (share: number): Markup =>
  html`<svg class="bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true"><rect width="${Math.max(0.5, 100 * share).toFixed(1)}" height="6" fill="currentColor"/></svg>`;
