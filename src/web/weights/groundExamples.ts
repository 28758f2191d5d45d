import { html } from 'hono/html';
import type { KindScale } from '../../core/scale/groundScale.js';
import type { ExampleRide, GroundExamples } from '../../flow/rides/exampleRides.js';
import { explanationText } from '../../languages/explanation.js';
import { hoursOfSeconds } from '../../units.js';
import { type Markup, table, when } from '../markup.js';
import { timeText, twoDecimals } from '../show.js';
import type { Viewer } from '../viewer.js';

/** The workshop's own rides that show what the three numbers stand for, and what an hour weighs by kind of ride. */
export function examplesMarkup(viewer: Viewer, { examples, kinds }: GroundExamples): Markup {
  const { scale, ...weights } = viewer.texts.settings.weights;
  return html`<section aria-labelledby="examples"><h2 id="examples">${scale.title}</h2>
<p>${scale.lead}</p>
<dl class="facts">${examples.map((example) => html`<dt>${weights[example.ground]}</dt><dd>${exampleText(viewer, example)}</dd>`)}</dl>
${when(kinds.length > 0, () => kindsTable(viewer, kinds))}
<p class="soft">${scale.unseen}</p></section>`;
}

function exampleText(viewer: Viewer, { story, weight, otherWeight }: ExampleRide): Markup {
  const { texts, words } = viewer;
  const { scale } = texts.settings.weights;
  if (story === null) return html`${scale.none}`;
  const { ride, bike, riderName, ground } = story;
  const began = ride.start === null ? texts.ride.noTime : timeText(ride.start, viewer);
  const whose = [riderName ?? texts.ride.noRider, bike?.name ?? texts.ride.noBike].join(', ');
  const hours = words.measured(hoursOfSeconds(ride.movingS));
  const weighs =
    otherWeight === weight
      ? scale.weighs(hours, twoDecimals(weight, viewer))
      : scale.wouldWeigh(hours, twoDecimals(weight, viewer), twoDecimals(otherWeight, viewer));
  return html`<a href="/rides/${ride.id}">${began}</a>, ${whose}: ${weighs}<br><small>${explanationText(ground!.explanation, texts.ride)}</small>`;
}

function kindsTable(viewer: Viewer, kinds: readonly KindScale[]): Markup {
  const { words } = viewer;
  const { scale } = viewer.texts.settings.weights;
  const { kind, rides, middle, range } = scale.columns;
  return html`<h3>${scale.kinds}</h3>${table(
    [
      { label: kind },
      { label: rides, isFigure: true },
      { label: middle, isFigure: true },
      { label: range, isFigure: true },
    ],
    kinds.map((one) => ({
      head: html`<b>${words.bikeType[one.kind]}</b>`,
      cells: [
        html`${words.number(one.rides)}`,
        html`${one.range === null ? scale.few : twoDecimals(one.range.middle, viewer)}`,
        html`${one.range === null ? '' : scale.between(twoDecimals(one.range.low, viewer), twoDecimals(one.range.high, viewer))}`,
      ],
    })),
  )}`;
}
