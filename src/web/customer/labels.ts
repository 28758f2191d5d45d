import { html } from 'hono/html';
import { getLabels, type RiderLabels } from '../../flow/counter/labels.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import { type Markup, when } from '../markup.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';

/** A label for each unit of a rider, to print and tie to it. */
export function labelsPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/riders/:handle/labels', async (c) => {
    const viewer = c.get('viewer');
    const view = await store.read((tx) => getLabels(tx, c.req.param('handle'), viewer.now));
    return c.html(markup(viewer, view, c.req.param('handle')));
  });
}

function markup(viewer: Viewer, { name, labels }: RiderLabels, handle: string): Markup {
  const { customer, paper } = viewer.texts;
  return page(viewer, {
    title: customer.labels(name),
    current: 'riders',
    paper: 'labels',
    body: html`
<div class="screen"><h1>${customer.labels(name)}</h1>
<p class="lead">${customer.labelsLead} ${paper.print}</p>
<p><a href="/riders/${encodeURIComponent(handle)}">${name}</a></p>
${when(labels.length === 0, () => html`<p>${customer.noLabels}</p>`)}</div>
<div class="labels">${labels.map(
      ({ unit, bike }) => html`
<section class="label"><p class="tag">${unit.tag}</p>
<p>${viewer.words.unitKind[unit.unitKind]}${unit.model === null ? '' : `, ${unit.model}`}${when(unit.serial !== null, () => html`<br>${viewer.texts.unit.serial} ${unit.serial}`)}</p>
<p><b>${name}</b>, ${bike}</p>
<p><small>${viewer.workshop?.name ?? ''}</small></p></section>`,
    )}</div>`,
  });
}
