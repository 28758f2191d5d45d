import { type Context, Hono } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { RIDE_FORMATS } from '../../core/tokens.js';
import { findFeedPage } from '../../flow/mail/feed.js';
import { findWorkshop } from '../../flow/settings.js';
import type { RiderDeps, WebDeps } from '../deps.js';
import type { Pages } from '../routes.js';
import type { WebEnv } from '../viewer.js';
import { Doors } from './answer.js';
import { askPage } from './askPage.js';
import { fieldsOf } from './forms.js';
import { addressPage, bikePage, stopAnswersPage, stopFoundPage, stopPage } from './mailPages.js';
import { DEVICE_HOME, mayBeKept } from './own/device.js';
import { ownPages } from './own/pages.js';
import { brokenPage, plainPage } from './plainPages.js';
import type { LinkPage } from './riderPage.js';
import { donePage, gonePage, laterPage } from './unitPages.js';

const PAGES: readonly LinkPage[] = [
  askPage,
  donePage,
  laterPage,
  gonePage,
  bikePage,
  stopPage,
  stopAnswersPage,
  stopFoundPage,
  addressPage,
];

/**
 * Adds the pages behind links in mails, the riders' own pages, and the bookings' calendar. Their address is the right to
 * use them: no cookie, no session, and none of the checks that guard the workshop's forms. A link shows a page; only a
 * POST changes anything.
 */
export function riderPages(app: Hono<WebEnv>, pages: Pages, deps: WebDeps): void {
  const { rider } = deps;
  if (!rider) return;
  const links = new Hono<WebEnv>();
  // The address is a secret: it never reaches a log.
  links.onError((error, c) => brokenPage(c, error, deps));
  const doors = new Doors(deps, rider);
  ownPages(links, doors);
  for (const page of PAGES) {
    const path = `/${page.purpose}/:token`;
    const door = { purpose: page.purpose, page };
    links.get(path, (c) => doors.answer(c, door, null));
    links.post(path, (c) => doors.answer(c, door, () => fieldsOf(c)));
  }
  links.all('*', async (c) => c.html(await plainPage(c, deps, 'gone'), 404));
  app.route('/r', links);
  pages.get('/app.webmanifest', (c) => manifest(c, deps));
  pages.get('/bookings/:file', (c) => feed(c, deps, rider));
}

/** The bookings for the workshop's own calendar, behind an address that only the workshop knows. */
async function feed(
  c: Context<WebEnv>,
  { store, clock }: WebDeps,
  { seal, feed: write }: RiderDeps,
): Promise<Response> {
  const mark = c.req.param('file')?.replace(/\.ics$/, '') ?? '';
  const found = await store.read((tx) => findFeedPage(tx, seal, mark, clock.now()));
  if (found === null) throw new HTTPException(404);
  const text = write(found.workshop, found.entries);
  return c.body(text, 200, { 'content-type': 'text/calendar; charset=utf-8' });
}

/** Ride files from other apps. Source: W3C Web Share Target API. */
const SHARE_TARGET = {
  action: `${DEVICE_HOME}/share`,
  method: 'POST',
  enctype: 'multipart/form-data',
  params: {
    files: [
      {
        name: 'files',
        accept: [
          ...RIDE_FORMATS.map((format) => `.${format}`),
          ...[
            '.gz',
            '.zip',
            'application/octet-stream',
            'application/gpx+xml',
            'application/xml',
            'text/xml',
          ],
          ...['application/zip', 'application/gzip'],
        ],
      },
    ],
  },
};

/** What a phone needs to put the page on its home screen; it says nothing of any rider. */
async function manifest(c: Context<WebEnv>, { store }: WebDeps): Promise<Response> {
  const workshop = (await store.read(findWorkshop))?.body;
  const app = {
    name: workshop?.name ?? 'Stanchion',
    start_url: `${DEVICE_HOME}/`,
    scope: `${DEVICE_HOME}/`,
    display: 'standalone',
    icons: [{ src: '/icon.svg', type: 'image/svg+xml', sizes: 'any' }],
    ...(mayBeKept(c) && { share_target: SHARE_TARGET }),
  };
  return c.body(JSON.stringify(app), 200, { 'content-type': 'application/manifest+json' });
}
