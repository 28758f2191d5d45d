/** How many taps and keys the counter takes, by tablet and desk; the guide for contributors has the counts. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { DOCUMENT, webWorld } from '../web/webWorld.js';
import { hasBrowser, openBrowser, served, signIn, WHY_NOT } from './browser.js';

const GUIDE = readFileSync(join(resolve(import.meta.dirname, '../..'), 'DEVELOPERS.md'), 'utf8');
const PICTURES = process.env.STANCHION_PICTURES;

/** A person's hands: each tap and each text that is typed is counted. */
class Hands {
  taps = 0;
  texts = 0;
  keys = 0;
  constructor(readonly page: Page) {}

  async tap(role: 'link' | 'button', name: string | RegExp): Promise<void> {
    await this.page.getByRole(role, { name }).first().click();
    this.taps += 1;
  }
  async type(label: string, text: string): Promise<void> {
    await this.page.getByLabel(label, { exact: true }).fill(text);
    this.texts += 1;
  }
  async choose(label: string, option: string): Promise<void> {
    await this.page.getByLabel(label, { exact: true }).selectOption({ label: option });
    this.taps += 1;
  }
  async press(key: string): Promise<void> {
    await this.page.keyboard.press(key);
    this.keys += 1;
  }
}

const shot = async (page: Page, name: string): Promise<void> => {
  if (PICTURES) await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
};

/** The count that the guide has for a task at a width. */
function told(task: string, width: number): string {
  const row = GUIDE.split('\n').find((line) => line.startsWith(`| ${task} |`)) ?? '';
  return row.split('|').map((cell) => cell.trim())[width === 820 ? 2 : 3] ?? '';
}

const rider = { ...DOCUMENT.riders[0]!, phone: '+351 912 345 678' };

test.runIf(hasBrowser).each([820, 1280])(
  `a new customer, a find and a call at %i px${WHY_NOT}`,
  { timeout: 120_000 },
  async (width) => {
    const world = await webWorld({ document: { ...DOCUMENT, riders: [rider, DOCUMENT.riders[1]] } });
    const browser = await openBrowser({ viewport: { width, height: width === 820 ? 1180 : 800 } });
    const page = await browser.newPage();
    await signIn(page, await served(world));
    await page.waitForLoadState('networkidle');

    // A call: one search by a part of the number, and all of it stands on one page.
    const call = new Hands(page);
    await call.press('/');
    expect(await page.evaluate('document.activeElement.id')).toBe('find-anything');
    await page.keyboard.type('912 345');
    call.texts += 1;
    await call.press('Enter');
    await page.waitForURL(/\/riders\/r1$/);
    const said = (await page.getByRole('main').textContent()) ?? '';
    for (const part of ['Pia Lanternby', 'F-0001', 'coming up', '45', 'lower-leg service', 'To tell'])
      expect(said).toContain(part);
    await shot(page, `rider-${width}`);
    expect(told('A call answered', width)).toBe(`${call.taps} taps, 1 search, ${call.keys} keys`);

    // To find a fork by its tag, with a finger.
    const find = new Hands(page);
    await page.goto(page.url().replace(/\/riders.*/, '/due'));
    await find.type('Name, phone, tag, serial, bike, mail', 'f0002');
    await find.tap('button', 'Find');
    await page.waitForURL(/\/units\/F-0002$/);
    expect(told('Find', width)).toBe(`${find.taps} tap, 1 text`);

    // A customer who comes for the first time.
    const add = new Hands(page);
    await add.tap('link', 'Riders');
    await add.tap('link', 'New customer');
    const fields = await page.locator('main input:visible, main select:visible').count();
    expect(fields).toBeLessThanOrEqual(12);
    await shot(page, `customer-${width}`);
    await add.type('Name', 'Ana Ferrão');
    await add.type('Phone', '+351 913 000 111');
    await add.type('E-mail address', 'ana@example.org');
    await add.choose('Language of their mails', 'Português');
    await add.type('Bike', 'Red enduro');
    await add.type('Model of the fork', 'Sample fork Z');
    await add.choose('Rear shock', 'air');
    await add.tap('button', 'Add this customer');
    await page.waitForURL(/\/riders\/r3\?done=new$/);
    expect(await page.getByRole('main').textContent()).toContain('F-0004');
    await shot(page, `added-${width}`);
    expect(told('New customer', width)).toBe(
      `1 page, ${fields} fields: ${add.taps} taps, ${add.texts} texts`,
    );
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
  },
);

test.runIf(hasBrowser)(`the counter fits a phone${WHY_NOT}`, { timeout: 90_000 }, async () => {
  const world = await webWorld();
  const page = await (await openBrowser({ viewport: { width: 390, height: 844 } })).newPage();
  const origin = await served(world);
  await signIn(page, origin);
  for (const [path, name] of [
    ['/customers/new', 'customer'],
    ['/riders/r1', 'rider'],
    ['/find?q=F-00', 'find'],
    ['/bikes/b1', 'bike'],
    ['/riders/r1/labels', 'labels'],
  ] as const) {
    await page.goto(origin + path);
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth'), path).toBe(true);
    await shot(page, `${name}-390`);
  }
});
