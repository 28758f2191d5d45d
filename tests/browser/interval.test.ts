import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { listDue } from '../../src/flow/listDue.js';
import { startWeb } from '../../src/web/serve.js';
import { NAME, NOW, PASSWORD, type WebWorld, webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, WHY_NOT } from './browser.js';

async function served(world: WebWorld): Promise<string> {
  const web = await startWeb(world.app, { host: '127.0.0.1', port: 0 });
  onTestFinished(() => web.close());
  return web.url;
}

const lowerLegOf = async ({ store }: WebWorld) =>
  (await store.read((tx) => listDue(tx, NOW))).find(
    (row) => row.unit === 'F-0001' && row.serviceKind === 'lower-leg',
  )!;

const dueRow = (page: Page) => page.getByRole('row', { name: /F-0001.*lower-leg service/ });

async function signIn(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.getByLabel('Name').fill(NAME);
  await page.getByLabel('Password').fill(PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

test.runIf(hasBrowser)(
  `an interval of 40 hours in place of 50 makes the fork due, without a script${WHY_NOT}`,
  async () => {
    const world = await webWorld();
    const page = await (await openBrowser({ javaScriptEnabled: false })).newPage();
    await signIn(page, await served(world));
    expect(await dueRow(page).innerText()).toContain('coming up');
    expect((await lowerLegOf(world)).state).toBe('coming-up');

    await page.getByRole('link', { name: 'Intervals' }).click();
    await page.getByRole('link', { name: 'Change: fork, lower-leg service' }).click();
    expect(await page.getByLabel('Terrain hours', { exact: true }).inputValue()).toBe('50');
    await page.getByLabel('Terrain hours', { exact: true }).fill('40');
    await page.getByRole('button', { name: 'See what would change' }).click();
    expect(await page.getByRole('row', { name: /F-0001/ }).innerText()).toMatch(/coming up\s+due/);
    expect((await lowerLegOf(world)).state).toBe('coming-up');
    await page.getByRole('button', { name: 'Save this interval' }).click();
    expect(await page.getByRole('status').innerText()).toContain('The interval is saved');

    await page.getByRole('link', { name: 'Due' }).click();
    const row = await dueRow(page).innerText();
    expect(row).toMatch(/\bdue\b/);
    expect(row).toContain('45\u00a0h of 40\u00a0h');
    expect(await lowerLegOf(world)).toMatchObject({ state: 'due', hoursLeft: -5 });
  },
);

test.runIf(hasBrowser)(
  `pages are accessible, wide and narrow, light and dark${WHY_NOT}`,
  { timeout: 90_000 },
  async () => {
    const world = await webWorld();
    const page = await (await openBrowser()).newPage();
    const hosts = new Set<string>();
    page.on('request', (request) => hosts.add(new URL(request.url()).host));
    const complaints: string[] = [];
    page.on('console', (message) => complaints.push(message.text()));
    const url = await served(world);
    await page.goto(`${url}/sign-in`);
    await expectAccessible(page);
    await signIn(page, url);
    for (const path of [
      '/',
      '/?find=zebra',
      '/intervals',
      '/intervals/fork/lower-leg',
      '/intervals/fork/lower-leg?terrainHours=40&months=12&ceiling=usual',
    ]) {
      await page.goto(url + path);
      for (const [colorScheme, width] of [
        ['light', 1280],
        ['dark', 390],
      ] as const) {
        await page.emulateMedia({ colorScheme });
        await page.setViewportSize({ width, height: 800 });
        await expectAccessible(page);
        expect(
          await page.evaluate('document.documentElement.scrollWidth'),
          `${path} at ${width}`,
        ).toBeLessThanOrEqual(width);
      }
    }
    expect([...hosts]).toEqual([new URL(url).host]);
    expect(complaints).toEqual([]);
  },
);
