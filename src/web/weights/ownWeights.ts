import { html } from 'hono/html';
import type { Weights } from '../../core/ledger/ledger.js';
import { LANDING_WEIGHT } from '../../core/ledger/weight.js';
import { LEAST_EACH, LEAST_LOOKS, type OwnWeights, type WeightsTaught } from '../../core/scale/ownWeights.js';
import { type Markup, table } from '../markup.js';
import { twoDecimals } from '../show.js';
import type { Viewer } from '../viewer.js';

/** What foam rings say of the weights: offered, never set by itself; or how many more must be seen. */
export function ownWeightsMarkup(
  viewer: Viewer,
  now: Weights,
  { services, missing, own }: WeightsTaught,
): Markup {
  const says = viewer.texts.settings.weights.own;
  const body =
    own === null
      ? html`<p>${says.silent(LEAST_LOOKS, LEAST_EACH)} ${says.missing(missing.services, missing.dark, missing.notDark)}</p>`
      : offerMarkup(viewer, now, services, own);
  return html`<section aria-labelledby="own"><h2 id="own">${says.title}</h2>${body}</section>`;
}

function offerMarkup(viewer: Viewer, now: Weights, services: number, own: OwnWeights): Markup {
  const { own: says, ...weights } = viewer.texts.settings.weights;
  const two = (value: number): string => twoDecimals(value, viewer);
  const row = (ground: 'smooth' | 'typical' | 'rough', range: string) => ({
    head: html`<b>${weights[ground]}</b>`,
    cells: [html`${two(now[ground])}`, html`${two(own.weights[ground])}`, html`${range}`],
  });
  const between = ({ low, high }: OwnWeights['smooth']): string => weights.scale.between(two(low), two(high));
  const { ground, stands, rings, range } = says.columns;
  return html`<p>${says.lead(viewer.words.counted(services, 'service'))}</p>
${table(
  [{ label: ground }, ...[stands, rings, range].map((label) => ({ label, isFigure: true }))],
  [row('smooth', between(own.smooth)), row('typical', says.measure), row('rough', between(own.rough))],
)}
<p><strong>${own.holdsNow ? says.holds : says.against}</strong> ${says.leave}</p>
<p><a class="button plain" href="${previewOf(own.weights)}">${says.tryIt}</a></p>
<p class="soft">${says.how}</p>`;
}

/** The page that first shows what would change. */
function previewOf({ smooth, typical, rough, landing = LANDING_WEIGHT }: Weights): string {
  const two = (value: number): string => String(Math.round(100 * value) / 100);
  const fields = {
    smooth: two(smooth),
    typical: String(typical),
    rough: two(rough),
    landing: String(landing),
  };
  return `/settings/weights?${new URLSearchParams(fields)}`;
}
