import { randomUUID } from 'node:crypto';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import { take } from '../web/takeTrack.js';
import { webWorld } from '../web/webWorld.js';
import {
  expectAccessible,
  expectTouchable,
  hasBrowser,
  openBrowser,
  served,
  signIn,
  WHY_NOT,
} from './browser.js';

const PAGES = [
  '/',
  '/due',
  '/due?find=zebra',
  '/leads',
  '/bench',
  '/fleets',
  '/settings',
  '/settings/accounts',
  '/account',
  '/tray',
  '/units',
  '/units/F-0001?done=service',
  '/riders',
  '/bikes/b1',
  '/mails',
  '/intervals',
  '/intervals/fork/lower-leg?terrainHours=x&months=12&ceiling=number',
  '/intervals/fork/lower-leg?terrainHours=40&months=12&ceiling=usual',
  '/no-such-page',
];

/** What goes wrong without anybody seeing it: a request to another host, a refused style, a broken picture. */
function watched(page: Page): { readonly hosts: Set<string>; readonly complaints: string[] } {
  const hosts = new Set<string>();
  const complaints: string[] = [];
  page.on('request', (request) => hosts.add(new URL(request.url()).host));
  page.on('console', (message) => {
    // The browser tells of each page that is answered with a refusal; those are asked for here.
    if (!/status of (404|422)/.test(message.text())) complaints.push(message.text());
  });
  return { hosts, complaints };
}

async function expectInView(page: Page, width: number): Promise<void> {
  const wide = await page.evaluate('document.documentElement.scrollWidth');
  expect(wide, `${page.url()} at ${width}`).toBeLessThanOrEqual(width);
}

test.runIf(hasBrowser)(
  `pages are accessible and fit, wide and light, narrow and dark${WHY_NOT}`,
  { timeout: 120_000 },
  async () => {
    const world = await webWorld();
    await take(world, { name: 'who.gpx', type: 'cycling' });
    await take(world, { name: 'when.gpx', rider: 'r1', hasTimes: false, type: 'cycling' });
    await queueNotices({ ...world.deps, ids: { uuid: randomUUID } });
    const page = await (await openBrowser()).newPage();
    const { hosts, complaints } = watched(page);
    const url = await served(world);
    await page.goto(`${url}/sign-in`);
    await expectAccessible(page);
    await signIn(page, url);
    for (const path of PAGES) {
      await page.emulateMedia({ colorScheme: 'light' });
      await page.setViewportSize({ width: 1280, height: 800 });
      await page.goto(url + path);
      await page.evaluate('document.querySelectorAll("details").forEach((one) => { one.open = true; })');
      await expectAccessible(page);
      await expectInView(page, 1280);
      await page.emulateMedia({ colorScheme: 'dark' });
      await page.setViewportSize({ width: 390, height: 800 });
      await expectAccessible(page, 'looks');
      await expectInView(page, 390);
      await expectTouchable(page);
      await page.setViewportSize({ width: 320, height: 800 });
      await expectInView(page, 320);
    }
    expect([...hosts]).toEqual([new URL(url).host]);
    expect(complaints).toEqual([]);
  },
);

test.runIf(hasBrowser)(
  `the first page of an empty store is accessible${WHY_NOT}`,
  { timeout: 90_000 },
  async () => {
    const page = await (await openBrowser()).newPage();
    const url = await served(await webWorld({ document: null }));
    await signIn(page, url);
    expect(new URL(page.url()).pathname).toBe('/workshop');
    await expectAccessible(page);
    await page.getByLabel('Name of the workshop').fill('Tumbledown Suspension Bench');
    await page.getByRole('button', { name: 'Create the workshop' }).click();
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toContain('Today');
  },
);
