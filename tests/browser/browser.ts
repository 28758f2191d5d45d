import { existsSync } from 'node:fs';
import axe from 'axe-core';
import { type Browser, type BrowserContext, chromium, type Page, type Request } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { startWeb } from '../../src/web/serve.js';
import { NAME, PASSWORD, type WebWorld } from '../web/webWorld.js';

export const CHROMIUM = '/usr/bin/chromium';
/** Without the browser these tests are left out by hand and fail in CI. */
export const hasBrowser = existsSync(CHROMIUM) || process.env.CI !== undefined;
export const WHY_NOT = hasBrowser ? '' : ` (left out: there is no ${CHROMIUM})`;

export const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** One program for all tests of this process; it ends with it. */
let program: Promise<Browser> | undefined;

/** Returns a browser that knows nothing yet, and is gone with all that it kept when the test ends. */
export async function openBrowser(
  options: {
    readonly javaScriptEnabled?: boolean;
    readonly viewport?: { readonly width: number; readonly height: number };
    readonly timezoneId?: string;
  } = {},
): Promise<BrowserContext> {
  program ??= chromium.launch({ executablePath: CHROMIUM, headless: true, args: QUIET });
  const browser = await (await program).newContext(options);
  onTestFinished(() => browser.close());
  return browser;
}

/** Returns where the pages are served until the test ends. */
export async function served({ app }: Pick<WebWorld, 'app'>): Promise<string> {
  const web = await startWeb(app, { host: '127.0.0.1', port: 0 });
  onTestFinished(() => web.close());
  return web.url;
}

export interface Watched {
  readonly hosts: Set<string>;
  /** What the browser complains of, requests that failed, and answers that tell of a fault. */
  readonly complaints: string[];
}

/**
 * Whether a request was dropped because its page was left before the answer came.
 * A server that breaks off says so by other words (net::ERR_CONNECTION_RESET, net::ERR_EMPTY_RESPONSE).
 */
export const leftBehind = (request: Request): boolean => request.failure()?.errorText === 'net::ERR_ABORTED';

/** Returns what goes wrong on a page without anybody seeing it. */
export function watch(page: Page): Watched {
  const hosts = new Set<string>();
  const complaints: string[] = [];
  page.on('request', (request) => hosts.add(new URL(request.url()).host));
  page.on('requestfailed', (request) => {
    if (!leftBehind(request)) complaints.push(`${request.url()} failed: ${request.failure()?.errorText}`);
  });
  page.on('response', (response) => {
    if (response.status() >= 400) complaints.push(`${response.url()} was answered with ${response.status()}`);
  });
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(error.message));
  return { hosts, complaints };
}

/** The fields by their names, which are the same in every language. */
export async function signIn(page: Page, url: string, name = NAME): Promise<void> {
  await page.goto(url);
  await page.locator('input[name="name"]').fill(name);
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

/** What a finger presses; a link in running text may be smaller. Source: WCAG 2.2, success criterion 2.5.5. */
const PRESSED =
  'button,.button,summary,select,textarea,label.tick,label.tap,nav a,input:not([type=hidden]):not([type=radio]):not([type=checkbox])';
const LEAST_PRESSED_PX = 44;

/** Everything that is pressed is high enough for a finger. */
export async function expectTouchable(page: Page): Promise<void> {
  const low = await page.evaluate(
    `[...document.querySelectorAll(${JSON.stringify(PRESSED)})]
      .filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < ${LEAST_PRESSED_PX} - 0.5)
      .map((one) => one.outerHTML.slice(0, 120) + ' ' + one.getBoundingClientRect().height)`,
  );
  expect(low, page.url()).toEqual([]);
}

/** Returns how many shared files a page's worker holds; what was answered is let go of after the answer is shown. */
export const keptByWorker = (page: Page): Promise<number> =>
  page.evaluate(`new Promise((resolve) => {
    const opened = indexedDB.open('own');
    opened.onsuccess = () => {
      const counted = opened.result.transaction('kept').objectStore('kept').count();
      counted.onsuccess = () => {
        opened.result.close();
        resolve(counted.result);
      };
    };
  })`);
