import { getRidePage } from '../../flow/rides/getRide.js';
import type { WebDeps } from '../deps.js';
import type { Pages } from '../routes.js';
import { rideMarkup } from './rideMarkup.js';

export function ridePage(pages: Pages, { store }: WebDeps): void {
  pages.get('/rides/:id', async (c) => {
    const view = await store.read((tx) => getRidePage(tx, c.req.param('id')));
    return c.html(rideMarkup(c.get('viewer'), view));
  });
}
