import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import axe from 'axe-core';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { startWeb } from '../../src/web/serve.js';
import { NAME, PASSWORD, type WebWorld } from '../web/webWorld.js';

const CHROMIUM = '/usr/bin/chromium';
/** Without the browser these tests are left out by hand and fail in CI. */
export const hasBrowser = existsSync(CHROMIUM) || process.env.CI !== undefined;
export const WHY_NOT = hasBrowser ? '' : ` (left out: there is no ${CHROMIUM})`;

const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Returns a browser that knows nothing yet, and is gone with its folder when the test ends. */
export async function openBrowser(
  options: { readonly javaScriptEnabled?: boolean } = {},
): Promise<BrowserContext> {
  const folder = mkdtempSync(join(tmpdir(), 'stanchion-browser-'));
  const browser = await chromium.launchPersistentContext(folder, {
    executablePath: CHROMIUM,
    headless: true,
    args: QUIET,
    ...options,
  });
  onTestFinished(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });
  return browser;
}

/** Returns where the pages are served until the test ends. */
export async function served({ app }: WebWorld): Promise<string> {
  const web = await startWeb(app, { host: '127.0.0.1', port: 0 });
  onTestFinished(() => web.close());
  return web.url;
}

/** The fields by their names, which are the same in every language. */
export async function signIn(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.locator('input[name="name"]').fill(NAME);
  await page.locator('input[name="password"]').fill(PASSWORD);
  await page.locator('main form button').click();
}

const ALL = { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] };
/** What changes with the colours and the width. */
const LOOKS = { runOnly: ['color-contrast', 'target-size', 'list', 'td-headers-attr'] };

/** Source: WCAG 2.2 A and AA as far as axe-core can tell. */
export async function expectAccessible(page: Page, what: 'all' | 'looks' = 'all'): Promise<void> {
  await page.evaluate(axe.source);
  const faults = await page.evaluate(
    `axe.run(document, ${JSON.stringify(what === 'all' ? ALL : LOOKS)}).then(({ violations }) =>
      violations.map(({ id, nodes }) => id + ': ' + nodes.map((node) => node.html).join(' ')))`,
  );
  expect(faults, page.url()).toEqual([]);
}
