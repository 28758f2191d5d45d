/** Every page of the table of routes, and what a rider's links lead to, at every width and in both schemes and languages. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { addressOf, guarded, idsIn } from '../web/everyRoute.js';
import { openOwnPages } from '../web/ownPages.js';
import { teamWorld } from '../web/teamWorld.js';
import {
  expectAccessible,
  expectTouchable,
  hasBrowser,
  openBrowser,
  served,
  signIn,
  WHY_NOT,
} from './browser.js';

async function expectFits(page: Page, width: number): Promise<void> {
  await page.setViewportSize({ width, height: 800 });
  const wide = await page.evaluate('document.documentElement.scrollWidth');
  expect(wide, `${page.url()} at ${width}`).toBeLessThanOrEqual(width);
}

/** Opens what is folded: it has to hold there too. */
async function opens(page: Page, address: string): Promise<boolean> {
  const answer = await page.goto(address).catch(() => null);
  if (answer?.status() !== 200 || !(answer.headers()['content-type'] ?? '').includes('html')) return false;
  await page.evaluate('document.querySelectorAll("details").forEach((one) => { one.open = true; })');
  return true;
}

/** Colours are the same at every width, and structure in both schemes. */
async function expectSound(page: Page): Promise<void> {
  await page.emulateMedia({ colorScheme: 'light' });
  await expectFits(page, 1280);
  await expectAccessible(page);
  await expectFits(page, 820);
  await expectTouchable(page);
  await page.emulateMedia({ colorScheme: 'dark' });
  await expectFits(page, 390);
  await expectTouchable(page);
  await expectAccessible(page, 'looks');
}

test.runIf(hasBrowser)(
  `the workshop's pages are accessible, fit, and can be touched${WHY_NOT}`,
  { timeout: 180_000 },
  async () => {
    const world = await teamWorld();
    const ids = await idsIn(world);
    const page = await (await openBrowser()).newPage();
    const url = await served(world);
    await signIn(page, url);
    let seen = 0;
    for (const entry of guarded.filter(({ method }) => method === 'GET')) {
      if (!(await opens(page, url + addressOf(entry, ids.shop)))) continue;
      await expectSound(page);
      seen += 1;
    }
    expect(seen).toBeGreaterThan(50);
  },
);

test.runIf(hasBrowser)(
  `the workshop's pages fit and can be touched in Portuguese, whose words are longer${WHY_NOT}`,
  { timeout: 120_000 },
  async () => {
    const world = await teamWorld('pt');
    const ids = await idsIn(world);
    const page = await (await openBrowser()).newPage();
    const url = await served(world);
    await signIn(page, url);
    for (const entry of guarded.filter(({ method }) => method === 'GET')) {
      if (!(await opens(page, url + addressOf(entry, ids.shop)))) continue;
      for (const width of [1280, 390]) await expectFits(page, width);
      await expectTouchable(page);
    }
  },
);

test.runIf(hasBrowser)(
  `a rider's pages are accessible, fit, and can be touched, in both languages${WHY_NOT}`,
  { timeout: 120_000 },
  async () => {
    const page = await (await openBrowser()).newPage();
    const { world, paths } = await openOwnPages('en');
    const url = await served(world);
    // The same page for another service is the same page.
    const kinds = new Map(
      paths.map((path) => [path.replace(/\/(lower-leg|air-spring|damper|full)\b/, '/kind'), path]),
    );
    expect(kinds.size).toBeGreaterThan(12);
    for (const path of kinds.values()) if (await opens(page, url + path)) await expectSound(page);
    const inPortuguese = await openOwnPages('pt');
    const there = await served(inPortuguese.world);
    for (const path of new Set(
      inPortuguese.paths.map((one) => one.replace(/\/(air-spring|damper|full)\b/, '/lower-leg')),
    )) {
      if (!(await opens(page, there + path))) continue;
      await expectFits(page, 390);
      await expectTouchable(page);
    }
  },
);
