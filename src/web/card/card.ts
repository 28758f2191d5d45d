import { html } from 'hono/html';
import { jobsOf } from '../../core/ledger/serviceKinds.js';
import { ServiceError } from '../../errors.js';
import { listForeseenOf } from '../../flow/due/foreseen.js';
import type { Tx } from '../../ports/store.js';
import { pathOfUnit } from '../cells/dueCells.js';
import type { WebDeps } from '../deps.js';
import { page } from '../layout.js';
import type { Pages } from '../routes.js';
import type { Viewer } from '../viewer.js';
import { benchCard } from './benchCard.js';
import { type Card, findComingJob, getCard } from './cardView.js';

/** The bench card of one unit; `?job=` names what is to be done, else it is what has a day or is due. */
export function cardPage(pages: Pages, { store }: WebDeps): void {
  pages.get('/units/:tag/card', async (c) => {
    const viewer = c.get('viewer');
    const tag = c.req.param('tag');
    const card = await store.read((tx) => getCardOf(tx, tag, viewer, c.req.query('job')));
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

async function getCardOf(
  tx: Tx,
  tag: string,
  { now, today }: Viewer,
  wanted: string | undefined,
): Promise<Card> {
  const unitId = await tx.handles.find('unit', tag);
  const [one] = unitId === undefined ? [] : await listForeseenOf(tx, now, [unitId]);
  if (!one) throw new ServiceError('not-found', 'find a unit', `There is no unit ${tag}.`);
  const card = await getCard(tx, one, await findComingJob(tx, one, today));
  const job = jobsOf(one.unit.unitKind, card.addedKinds).find((name) => name === wanted);
  return job === undefined ? card : getCard(tx, one, job);
}
