import { html } from 'hono/html';
import type { Ground } from '../../core/tokens.js';
import type { Markup } from '../markup.js';

/** How a stretch of ground is drawn, so that it reads without colour: by hatching and by the weight of its line. */
interface GroundMark {
  readonly line: number;
  readonly shade: number;
  /** The distance between hatching lines, and in how many directions they run. */
  readonly hatch: { readonly everyPx: number; readonly ways: 1 | 2; readonly width: number } | null;
}

const MARKS: Readonly<Record<Ground, GroundMark>> = {
  smooth: { line: 1.25, shade: 0.07, hatch: null },
  typical: { line: 2.25, shade: 0.07, hatch: { everyPx: 8, ways: 1, width: 0.9 } },
  rough: { line: 3.75, shade: 0.22, hatch: { everyPx: 5, ways: 2, width: 1.3 } },
};

export const lineWidthOf = (ground: Ground | null): number => (ground === null ? 1 : MARKS[ground].line);

/** Returns the hatchings of one picture. `picture` tells its ids from those of others on the page. */
export const hatchings = (picture: string): Markup =>
  html`<defs>${Object.entries(MARKS).map(([ground, { shade, hatch }]) => {
    const size = hatch?.everyPx ?? 8;
    const middle = size / 2;
    const across = html`<path d="M0 ${middle}H${size}"/>`;
    const both = html`${across}<path d="M${middle} 0V${size}"/>`;
    return html`<pattern id="${picture}-${ground}" width="${size}" height="${size}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="${size}" height="${size}" fill="currentColor" fill-opacity="${shade}"/>${
      hatch === null
        ? ''
        : html`<g stroke="currentColor" stroke-width="${hatch.width}" stroke-opacity=".75">${hatch.ways === 1 ? across : both}</g>`
    }</pattern>`;
  })}</defs>`;

/** Returns a small sample of a ground's mark, for a legend beside words. */
export function groundSample(ground: Ground | null): Markup {
  const picture = `sample-${ground ?? 'unknown'}`;
  const dashes = ground === null ? html` stroke-dasharray="2 4"` : '';
  return html`<svg class="sample" viewBox="0 0 40 18" width="40" height="18" aria-hidden="true">${ground === null ? '' : hatchings(picture)}${
    ground === null ? '' : html`<rect y="4" width="40" height="14" fill="url(#${picture}-${ground})"/>`
  }<path d="M0 4H40" fill="none" stroke="currentColor" stroke-width="${lineWidthOf(ground)}"${dashes}/></svg>`;
}
