import type { Locator, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { listDue } from '../../src/flow/due/listDue.js';
import { NOW, type WebWorld, webWorld } from '../web/webWorld.js';
import { hasBrowser, openBrowser, served, signIn, WHY_NOT } from './browser.js';

const lowerLegOf = async ({ store }: WebWorld) =>
  (await store.read((tx) => listDue(tx, NOW))).find(
    (row) => row.unit === 'F-0001' && row.serviceKind === 'lower-leg',
  )!;

const dueRow = (page: Page) => page.getByRole('row', { name: /F-0001.*lower-leg service/ });

const stateIn = (row: Locator) => row.getByRole('cell').nth(1).textContent();

test.runIf(hasBrowser)(
  `an interval of 40 hours in place of 50 makes the fork due, without a script${WHY_NOT}`,
  { timeout: 90_000 },
  async () => {
    const world = await webWorld();
    const page = await (await openBrowser({ javaScriptEnabled: false })).newPage();
    await signIn(page, await served(world));
    await page.getByRole('link', { name: 'Due', exact: true }).click();
    expect(await stateIn(dueRow(page))).toBe('coming up');
    expect((await lowerLegOf(world)).state).toBe('coming-up');

    await page.getByRole('link', { name: 'Due', exact: true }).click();
    await page.getByRole('link', { name: 'Intervals' }).click();
    await page.getByRole('link', { name: 'Change: fork, lower-leg service' }).click();
    expect(await page.getByLabel('Terrain hours', { exact: true }).inputValue()).toBe('50');
    await page.getByLabel('Terrain hours', { exact: true }).fill('40');
    await page.getByRole('button', { name: 'See what would change' }).click();
    const promised = page.getByRole('row', { name: /F-0001/ }).getByRole('cell');
    expect((await promised.allTextContents()).slice(0, 2)).toEqual(['coming up', 'due']);
    expect((await lowerLegOf(world)).state).toBe('coming-up');
    await page.getByRole('button', { name: 'Save this interval' }).click();
    expect(await page.getByRole('status').textContent()).toContain('The interval is saved');

    await page.getByRole('link', { name: 'Due', exact: true }).click();
    expect(await stateIn(dueRow(page))).toBe('due');
    expect(await dueRow(page).textContent()).toContain('45.0\u00a0h of 40\u00a0h');
    expect(await lowerLegOf(world)).toMatchObject({ state: 'due', hoursLeft: -5 });
  },
);
