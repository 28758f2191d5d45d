import { html } from 'hono/html';
import { fittingNow } from '../../core/ledger/ledger.js';
import type { PartUse } from '../../core/plan/parts.js';
import type { UnitPage } from '../../flow/due/unitPage.js';
import { pathOfUnit } from '../cells/dueCells.js';
import { photoForm } from '../cells/photoCells.js';
import { besideCautions, formToken, page } from '../layout.js';
import { type Markup, saidAfter, tick, when } from '../markup.js';
import type { After } from '../taken.js';
import type { Viewer } from '../viewer.js';
import { serviceFields, withRenewed } from './serviceForm.js';

/** The page on which a service is logged. `from` says where it leads back to. */
/** Enter in a field presses a form's first button, which must not be the one that shows other parts. */
const FIRST_BUTTON = html`<button hidden tabindex="-1"></button>`;

export function serviceMarkup(
  viewer: Viewer,
  view: UnitPage,
  after: After,
  { from, parts }: { readonly from: string; readonly parts: readonly PartUse[] },
): Markup {
  // Whoever is signed in most likely did the work.
  const fields = withRenewed(
    view,
    after.fields.kind === undefined ? { ...after.fields, technician: viewer.account.name } : after.fields,
  );
  const { texts, now } = viewer;
  const { ledger, rows, job } = view;
  const { tag } = ledger.unit;
  const on = fittingNow(ledger.fittings, now);
  const bike = on === undefined ? texts.due.noBike : ledger.bikes.get(on.bikeId)!.name;
  const rider = rows[0]?.riderName ?? null;
  return page(viewer, {
    title: `${texts.unit.logTitle}: ${tag}`,
    current: from === 'bench' ? 'bench' : 'units',
    takesPhotos: true,
    body: html`
<h1>${texts.unit.logTitle}: <a href="${pathOfUnit(tag)}">${tag}</a></h1>
<p class="lead">${[bike, rider, job?.stay.job.wish].filter((text) => text).join(' · ')}</p>
${saidAfter(after.fault, after.done === null ? undefined : texts.unit.done[after.done])}
${photoForm(
  viewer,
  tag,
  view.photos.filter(({ serviceId }) => serviceId === null),
  from === 'bench' ? 'service-bench' : 'service',
)}
${besideCautions(
  viewer,
  html`<form method="post" action="${pathOfUnit(tag)}/service">${FIRST_BUTTON}${formToken(viewer)}<input type="hidden" name="from" value="${from}">
${when(job !== null, () => tick('jobDone', texts.unit.jobDone, after.fields.kind === undefined || after.fields.jobDone === 'yes'))}
${serviceFields(viewer, view, { ...after, fields }, parts)}
<p><button class="primary">${texts.unit.log}</button></p>
</form>`,
)}`,
  });
}
