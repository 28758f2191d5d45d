import { setImmediate } from 'node:timers/promises';
import { type Context, Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { html } from 'hono/html';
import { HTTPException } from 'hono/http-exception';
import { ServiceError } from '../../errors.js';
import { listFeed } from '../../flow/feed.js';
import { queueFreshLink } from '../../flow/letters.js';
import { isFeedPath, openLink } from '../../flow/links.js';
import { refreshDueOnce } from '../../flow/refreshDue.js';
import { findWorkshop, getWorkshop } from '../../flow/settings.js';
import type { RiderDeps, WebDeps } from '../deps.js';
import { barePage } from '../layout.js';
import type { Markup } from '../markup.js';
import { placeOf } from '../place.js';
import { voiceOf } from '../texts/index.js';
import type { WebEnv } from '../viewer.js';
import { linkLimit } from './linkLimit.js';
import { addressPage, bikePage, stopPage } from './ownPages.js';
import {
  done,
  type Fields,
  fault,
  form,
  type RiderPage,
  riderMarkup,
  type Said,
  submit,
  viewOf,
} from './riderPage.js';
import { riderTextsFor } from './texts/index.js';
import { askPage, donePage, gonePage, laterPage } from './unitPages.js';

const PAGES: readonly RiderPage[] = [askPage, donePage, laterPage, gonePage, bikePage, stopPage, addressPage];

const LARGEST_FORM_BYTES = 8 * 1024;
/** In a quarter of an hour: forms from one link, pages from one place, links that do not work from one place. */
const MOST = { forms: 20, pages: 600, wrong: 60 } as const;
/** So many steps of the refresh are waited for; what is left follows within a minute. */
const MOST_STEPS = 10;

type RiderContext = Context<WebEnv>;

/**
 * Adds the pages behind links in mails, and the bookings' calendar. Their address is the right to use them: no cookie,
 * no session, and none of the checks that guard the workshop's forms. A link shows a page; only a POST changes anything.
 */
export function riderPages(app: Hono<WebEnv>, deps: WebDeps): void {
  const { rider } = deps;
  if (!rider) return;
  const links = new Hono<WebEnv>();
  // The address is a secret: it never reaches a log.
  links.onError((error, c) => brokenPage(c, error, deps));
  links.use(
    bodyLimit({
      maxSize: LARGEST_FORM_BYTES,
      onError: () => {
        throw new HTTPException(413);
      },
    }),
  );
  const answer = answerWith(deps, rider);
  for (const page of PAGES) {
    const path = `/${page.purpose}/:token`;
    links.get(path, (c) => answer(c, page, null));
    links.post(path, async (c) => answer(c, page, await fieldsOf(c)));
  }
  links.all('*', async (c) => c.html(await plainPage(c, deps, 'gone'), 404));
  app.route('/r', links);
  app.get('/bookings/:file', (c) => feed(c, deps, rider));
}

/** A mail program may send its one click as either type of form. Source: RFC 8058 3.2. */
async function fieldsOf(c: RiderContext): Promise<Fields> {
  const type = c.req.header('content-type')?.split(';')[0]?.trim().toLowerCase();
  if (type !== 'application/x-www-form-urlencoded' && type !== 'multipart/form-data') return {};
  const body = await c.req.parseBody();
  return Object.fromEntries(
    Object.entries(body).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}

function answerWith(deps: WebDeps, rider: RiderDeps) {
  const limit = linkLimit();
  const { store, clock, publicUrl } = deps;
  return async (c: RiderContext, page: RiderPage, fields: Fields | null): Promise<Response> => {
    const now = clock.now();
    const place = placeOf(c, publicUrl !== null);
    const token = c.req.param('token') ?? '';
    if (!limit(`page ${place}`, MOST.pages, now)) return c.html(await plainPage(c, deps, 'tooMuch'), 429);
    const found = await store.read((tx) => openLink(tx, rider.seal, page.purpose, token, now));
    if (!found) {
      const isCalm = limit(`wrong ${place}`, MOST.wrong, now);
      return c.html(await plainPage(c, deps, isCalm ? 'gone' : 'tooMuch'), isCalm ? 404 : 429);
    }
    if (fields !== null && !limit(`form ${page.purpose} ${found.contact.riderId}`, MOST.forms, now))
      return c.html(await plainPage(c, deps, 'tooMuch'), 429);
    const what = fields === null ? null : await take(deps, rider, page, token, fields);
    const markup = await store.read(async (tx) => {
      const opened = await openLink(tx, rider.seal, page.purpose, token, now);
      if (!opened) return null;
      const view = await viewOf(tx, opened, now, rider.ids);
      if (opened.isExpired) return expiredMarkup(view, what);
      return riderMarkup(view, page.title(view.texts), what, await page.show(tx, view));
    });
    if (markup === null) return c.html(await plainPage(c, deps, 'gone'), 404);
    return c.html(markup, what?.isFault ? 422 : 200);
  };
}

const expiredMarkup = (view: Parameters<typeof riderMarkup>[0], what: Said | null): Markup => {
  const { expired } = view.texts;
  const ask = form(html`<input type="hidden" name="action" value="fresh">${submit(expired.submit)}`);
  return riderMarkup(view, expired.title, what, html`<p>${expired.says}</p>${ask}`);
};

/** Checks the link again in the transaction that does what its form asks. */
async function take(
  deps: WebDeps,
  rider: RiderDeps,
  page: RiderPage,
  token: string,
  fields: Fields,
): Promise<Said> {
  const now = deps.clock.now();
  const what = await deps.store
    .write(async (tx): Promise<Said> => {
      const opened = await openLink(tx, rider.seal, page.purpose, token, now);
      if (!opened) throw new HTTPException(404);
      const view = await viewOf(tx, opened, now, rider.ids);
      if (!opened.isExpired) return page.take(tx, view, fields);
      if (fields.action !== 'fresh') return fault(view.texts.expired.says);
      await queueFreshLink(tx, opened.link, now, rider.ids);
      return done(view.texts.expired.sent);
    })
    .catch(refusalAsSaid);
  for (let step = 0; step < MOST_STEPS && (await refreshDueOnce(deps)); step++) await setImmediate();
  return what;
}

/** What the ledger refuses is for the person; nothing was changed. */
function refusalAsSaid(error: unknown): Said {
  if (!(error instanceof ServiceError) || error.code !== 'refused') throw error;
  return fault(error.hint === undefined ? error.message : `${error.message} ${error.hint}`);
}

/** A page for whoever holds no good link: it speaks the workshop's language and names nobody. */
async function plainPage(c: RiderContext, { store }: WebDeps, what: 'gone' | 'tooMuch'): Promise<Markup> {
  const workshop = (await store.read(findWorkshop))?.body;
  return plainMarkup(c, what, workshop);
}

function plainMarkup(
  c: RiderContext,
  what: 'gone' | 'tooMuch' | 'broken',
  workshop?: { readonly name: string; readonly language: string },
): Markup {
  const tag = workshop?.language ?? c.req.header('accept-language') ?? 'en';
  const { title, says } = riderTextsFor(tag)[what];
  return barePage(voiceOf(tag), title, html`<h1>${title}</h1><p>${says}</p>`, workshop?.name ?? 'Stanchion');
}

async function brokenPage(c: RiderContext, error: unknown, deps: WebDeps): Promise<Response> {
  const status = error instanceof HTTPException ? error.status : 500;
  if (status === 404) return c.html(await plainPage(c, deps, 'gone'), 404);
  if (status < 500) return c.html(plainMarkup(c, 'broken'), 400);
  const [, , purpose] = c.req.path.split('/');
  deps.log.error({ error, page: `/r/${purpose ?? ''}/…` }, 'A page behind a link could not be made');
  // The store may be what is broken.
  return c.html(plainMarkup(c, 'broken'), 500);
}

/** The bookings for the workshop's own calendar, behind an address that only the workshop knows. */
async function feed(
  c: RiderContext,
  { store, clock }: WebDeps,
  { seal, feed: write }: RiderDeps,
): Promise<Response> {
  const mark = c.req.param('file')?.replace(/\.ics$/, '') ?? '';
  const text = await store.read(async (tx) => {
    if (!(await isFeedPath(tx, seal, mark))) return null;
    return write(await getWorkshop(tx), await listFeed(tx, clock.now()));
  });
  if (text === null) throw new HTTPException(404);
  return c.body(text, 200, { 'content-type': 'text/calendar; charset=utf-8' });
}
