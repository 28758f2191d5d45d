import { getRide } from '../../flow/rides/getRide.js';
import type { WebDeps } from '../deps.js';
import type { Pages } from '../routes.js';
import { type RideView, rideMarkup } from './rideMarkup.js';

export function ridePage(pages: Pages, { store }: WebDeps): void {
  pages.get('/rides/:id', async (c) => {
    const view = await store.read(async (tx): Promise<RideView> => {
      const story = await getRide(tx, c.req.param('id'));
      const { riderId } = story.ride;
      const rider = riderId === null ? undefined : await tx.contacts.find(riderId);
      return { ...story, riderName: rider?.name ?? null };
    });
    return c.html(rideMarkup(c.get('viewer'), view));
  });
}
