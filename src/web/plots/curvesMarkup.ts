import { html } from 'hono/html';
import type { UnitCurve } from '../../flow/due/unitCurves.js';
import { type Markup, when } from '../markup.js';
import { capitalised } from '../show.js';
import { hoursPlot, type PlotReader } from './hoursPlot.js';

/** Returns a picture of each service kind's hours, the first one open. */
export const curvesMarkup = (curves: readonly UnitCurve[], viewer: PlotReader): Markup =>
  when(
    curves.length > 0,
    () => html`<h3>${viewer.texts.hoursPlot.heading}</h3>
${curves.map((curve, i) =>
  i === 0
    ? hoursPlot(curve, viewer)
    : html`<details><summary>${capitalised(viewer.words.serviceKind(curve.standing.serviceKind))}</summary>${hoursPlot(curve, viewer)}</details>`,
)}`,
  );
