import { html } from 'hono/html';
import { getFeedPath } from '../../flow/mail/links.js';
import type { WebDeps } from '../deps.js';
import type { Pages } from '../routes.js';
import { afterQuery } from '../taken.js';
import { settingFrame } from './frame.js';

/** Where the calendar of the booked days is, as this page is served. */
export function calendarPage(pages: Pages, { store, rider, publicUrl }: WebDeps): void {
  pages.get('/settings/calendar', async (c) => {
    const viewer = c.get('viewer');
    const { calendar: says } = viewer.texts.settings;
    const path = rider ? await store.read((tx) => getFeedPath(tx, rider.seal)) : null;
    return c.html(
      settingFrame(viewer, {
        ...{ title: says.title, lead: says.lead, after: afterQuery(c) },
        body:
          path === null
            ? html`<p>${says.none}</p>`
            : html`<p><code>${(publicUrl ?? c.get('visit').origin) + path}</code></p><p>${says.how}</p>`,
      }),
    );
  });
}
