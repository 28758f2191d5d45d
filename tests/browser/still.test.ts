/** Each page lies still while it is loaded, is accessible, and asks no other host; a first page is light: for each who signs in, and a rider. */
import type { BrowserContext, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { LinkMaker } from '../../src/flow/mail/links.js';
import { sealWith } from '../../src/secret.js';
import { DAY_MS, instant } from '../../src/units.js';
import { crawl } from '../fixtures/pageForms.js';
import { type TeamWorld, teamWorld } from '../web/teamWorld.js';
import { NOW } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT } from './browser.js';

const FIRST_PAGE_BYTES = 50_000;
const WIDTHS = [390, 1280];
/** How many pages of each: a technician's are the owner's. */
const ROLES = [
  ['owner', 45],
  ['tech', 1],
  ['oak', 20],
] as const;

/** Adds up what the browser says of moves that nobody asked for. Source: W3C Layout Instability. */
const LISTEN = `window.moved = [];
new PerformanceObserver((list) => {
  for (const entry of list.getEntries())
    window.moved.push(entry.value + ' ' + entry.sources.map(({ node }) => node && (node.outerHTML || node.textContent || '').slice(0, 120)).join(' | '));
}).observe({ type: 'layout-shift', buffered: true });`;

const SETTLED =
  'new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(window.moved))))';

/** The text of a page as the one signed in gets it. */
const reader = (browser: BrowserContext, url: string) => async (path: string) =>
  (await browser.request.get(url + path)).text();

async function expectStillAndAccessible(page: Page, url: string, paths: Iterable<string>): Promise<void> {
  for (const width of WIDTHS) {
    await page.setViewportSize({ width, height: 800 });
    for (const path of paths) {
      await page.goto(url + path);
      expect(await page.evaluate(SETTLED), `${path} at ${width}`).toEqual([]);
      // What axe sees hardly depends on the width, and is most of the time that this takes.
      if (width === WIDTHS[0]) await expectAccessible(page, 'all');
    }
  }
}

/** Everything that a page needs in a browser that has nothing yet. */
async function firstPageBytes(page: Page, go: () => Promise<unknown>): Promise<number> {
  const sizes: Promise<number>[] = [];
  page.on('response', (response) => {
    if (response.status() !== 303) sizes.push(response.body().then((body) => body.length));
  });
  await go();
  await page.waitForLoadState('networkidle');
  page.removeAllListeners('response');
  return (await Promise.all(sizes)).reduce((sum, size) => sum + size, 0);
}

const ownPageOf = ({ store, deps }: TeamWorld): Promise<string> =>
  store.read(async (tx) => {
    const links = { publicUrl: '', seal: sealWith(deps.secret), isOneClick: false };
    const contact = (await tx.contacts.find((await tx.handles.find('rider', 'r1'))!))!;
    return new LinkMaker(links, tx.workshopId, contact, instant(NOW - DAY_MS)).own('page');
  });

test('the measure sees a page that moves', { timeout: 60_000, skip: !hasBrowser }, async () => {
  const page = await (await openBrowser()).newPage();
  await page.setContent(
    `<!doctype html><script>${LISTEN}</script><p id="top"></p><p>Text that is pushed down</p>`,
  );
  await page.evaluate('new Promise((done) => requestAnimationFrame(() => setTimeout(done, 50)))');
  await page.evaluate('document.getElementById("top").style.height = "200px"');
  await page.evaluate('new Promise((done) => setTimeout(done, 200))');
  expect(await page.evaluate(SETTLED)).not.toEqual([]);
});

test.runIf(hasBrowser).each(ROLES)(
  `no page of %s moves, is hard to reach or asks another host, and the first is light${WHY_NOT}`,
  async (role, most) => {
    const world = await teamWorld();
    const url = await served(world);
    const browser = await openBrowser();
    await browser.addInitScript(LISTEN);
    const page = await browser.newPage();
    const hosts = new Set<string>();
    page.on('request', (request) => hosts.add(new URL(request.url()).host));
    await signIn(page, url, role);
    await page.waitForLoadState('networkidle');
    const cookies = await browser.cookies();
    const fresh = await openBrowser();
    await fresh.addCookies(cookies);
    const bytes = await firstPageBytes(await fresh.newPage(), () => fresh.pages().at(-1)!.goto(url));
    expect(bytes).toBeLessThan(FIRST_PAGE_BYTES);
    expect(bytes).toBeGreaterThan(5_000);
    const { pages } = await crawl(reader(browser, url), ['/'], most);
    expect(pages.size).toBe(most);
    await expectStillAndAccessible(page, url, pages.keys());
    expect([...hosts]).toEqual([new URL(url).host]);
  },
  240_000,
);

test.runIf(hasBrowser)(
  `no page of a rider moves, is hard to reach or asks another host, and the first is light${WHY_NOT}`,
  async () => {
    const world = await teamWorld();
    const url = await served(world);
    const home = await ownPageOf(world);
    const browser = await openBrowser();
    await browser.addInitScript(LISTEN);
    const page = await browser.newPage();
    const hosts = new Set<string>();
    page.on('request', (request) => hosts.add(new URL(request.url()).host));
    const bytes = await firstPageBytes(page, () => page.goto(url + home));
    expect(bytes).toBeLessThan(FIRST_PAGE_BYTES);
    expect(bytes).toBeGreaterThan(5_000);
    const { pages } = await crawl(reader(browser, url), [home], 20);
    expect(pages.size).toBeGreaterThan(6);
    await expectStillAndAccessible(page, url, pages.keys());
    expect([...hosts]).toEqual([new URL(url).host]);
  },
  240_000,
);
