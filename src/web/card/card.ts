import { html } from 'hono/html';
import { getCardPage } from '../../flow/plan/card.js';
import { pathOfUnit } from '../cells/dueCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import type { Pages } from '../routes.js';
import { benchCard } from './benchCard.js';

/** The bench card of one unit; `?job=` names what is to be done, else it is what has a day or is due. */
export function cardPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/units/:tag/card', async (c) => {
    const viewer = c.get('viewer');
    const tag = c.req.param('tag');
    const asked = { now: viewer.now, wanted: c.req.query('job') };
    const card = await store.read((tx) => getCardPage(tx, tag, asked));
    const { paper } = viewer.texts;
    return c.html(
      page(viewer, {
        title: paper.card.title(tag),
        current: 'units',
        paper: 'card',
        body: html`
<div class="screen"><h1>${paper.card.title(tag)}</h1>
<p class="lead">${paper.card.lead} ${paper.print}</p>
<p><a href="${pathOfUnit(tag)}">${paper.back(tag)}</a></p></div>
${benchCard(viewer, card)}`,
      }),
    );
  });
}
