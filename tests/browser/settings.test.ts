/** What a bench sets daily, by taps on a tablet and at a desk; and every page of the settings, looked at. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { getWorkshop } from '../../src/flow/settings.js';
import { teamWorld } from '../web/teamWorld.js';
import { DOCUMENT, webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';

const GUIDE = readFileSync(join(resolve(import.meta.dirname, '../..'), 'DEVELOPERS.md'), 'utf8');
const PICTURES = process.env.STANCHION_PICTURES;

/** The counts that the guide has for a task at a width. */
function told(task: string, width: number): string {
  const row = GUIDE.split('\n').find((line) => line.startsWith(`| ${task} |`)) ?? '';
  return row.split('|').map((cell) => cell.trim())[width === 820 ? 2 : 3] ?? '';
}

/** From any page: what a finger does, and what is typed. */
class Setter {
  taps = 0;
  texts = 0;
  constructor(readonly page: Page) {}
  async tap(role: 'link' | 'button', name: string | RegExp): Promise<void> {
    await this.page.getByRole(role, { name }).first().click();
    this.taps += 1;
  }
  async type(label: string, text: string): Promise<void> {
    await this.page.getByLabel(label).first().fill(text);
    this.texts += 1;
  }
  counted = (): string => `${this.taps} taps, ${this.texts} ${this.texts === 1 ? 'text' : 'texts'}`;
}

const PEOPLE = [
  { name: 'Alma', days: ['tue', 'wed', 'thu', 'fri', 'sat'], minutesADay: 300 },
  { name: 'Bo', days: ['thu', 'fri'], minutesADay: 180, off: ['2026-07-02', '2026-07-03'] },
];

test.runIf(hasBrowser).each([820, 1280])(
  `a closed day, a price and a day off at %i px${WHY_NOT}`,
  { timeout: 120_000 },
  async (width) => {
    const world = await webWorld({
      document: { ...DOCUMENT, workshop: { ...DOCUMENT.workshop, people: PEOPLE } },
    });
    const page = await (await openBrowser({ viewport: { width, height: 900 } })).newPage();
    const watched = watch(page);
    const url = await served(world);
    await signIn(page, url);
    await page.waitForLoadState('networkidle');
    const workshop = () => world.store.read(getWorkshop);

    const closed = new Setter(page);
    await closed.tap('link', 'Settings');
    await closed.tap('link', 'Closed days');
    await closed.type('From day', '2026-06-26');
    await closed.tap('button', 'Close these days');
    await page.getByRole('status').waitFor();
    expect(await page.getByRole('main').textContent()).toContain('Friday 26 June');
    expect((await workshop()).closedDays).toEqual(['2026-06-26']);
    expect(told('A closed day', width)).toBe(closed.counted());

    const price = new Setter(page);
    await page.goto(url);
    await price.tap('link', 'Settings');
    await price.tap('link', 'Jobs: minutes, prices, times');
    await price.type('Price: fork, lower-leg service', 'from 85');
    await price.tap('button', 'Save');
    await page.getByRole('status').waitFor();
    expect(await page.getByLabel('Price: fork, lower-leg service').inputValue()).toBe('from 85');
    expect((await workshop()).offers).toHaveLength(1);
    expect(told('A price', width)).toBe(price.counted());

    const off = new Setter(page);
    await page.goto(url);
    await off.tap('link', 'Settings');
    await off.tap('link', 'People and their days');
    await off.type('From day', '2026-06-11');
    await off.tap('button', 'Alma is away on these days');
    await page.getByRole('status').waitFor();
    expect(await page.getByRole('main').textContent()).toContain('Away: Thursday 11 June');
    expect((await workshop()).people![0]!.off).toEqual(['2026-06-11']);
    expect(told('A person’s day off', width)).toBe(off.counted());
    expect(watched.complaints).toEqual([]);
  },
);

test.runIf(hasBrowser)(
  `on the first page an example fills its field, and so does the browser’s zone${WHY_NOT}`,
  { timeout: 60_000 },
  async () => {
    const url = await served(await webWorld({ document: null }));
    const browser = await openBrowser({ timezoneId: 'Pacific/Auckland' });
    const page = await browser.newPage();
    const watched = watch(page);
    await signIn(page, url);
    const hours = page.locator('input[name="openingHours"]');
    const zone = page.locator('select[name="timeZone"]');
    await page.getByRole('button', { name: 'Mon–Fri 9:30–18:30' }).click();
    await expect.poll(() => hours.inputValue()).toBe('Mon–Fri 9:30–18:30');
    expect(await hours.evaluate('document.activeElement?.id')).toBe('openingHours');
    // Another example takes its place.
    await page.getByRole('button', { name: 'Tue–Sat 10–18' }).click();
    await expect.poll(() => hours.inputValue()).toBe('Tue–Sat 10–18');
    await page.getByRole('button', { name: 'Pacific/Auckland' }).click();
    await expect.poll(() => zone.inputValue()).toBe('Pacific/Auckland');
    expect(page.url()).toBe(`${url}/workshop`);
    expect(watched.complaints).toEqual([]);
  },
);

const PAGES = [
  '/settings',
  '/settings/closed',
  '/settings/people',
  '/settings/bench',
  '/settings/jobs',
  '/settings/parts/fork/lower-leg',
  '/settings/shelf',
  '/settings/calendar',
  '/settings/workshop',
  '/settings/mails',
  '/races/new',
  '/races/r-oak/change',
  '/fleets/new',
  '/fleets/t1/change',
  '/fleets/t1/spares',
];
const WIDTHS = [390, 820, 1280];

test.runIf(hasBrowser)(
  `every page of the settings is accessible and fits${WHY_NOT}`,
  { timeout: 180_000 },
  async () => {
    const world = await teamWorld();
    const closedDays = ['2026-08-10', '2026-08-11', '2026-12-25'];
    await world.store.write(async (tx) => {
      const fact = (await tx.facts.list('workshop')).at(-1)!;
      const body = { ...fact.body, closedDays, people: PEOPLE.map((one) => ({ off: [], ...one })) };
      await tx.facts.replace(fact.id, {
        kind: 'workshop',
        body: body as never,
        by: 'owner',
        at: world.deps.clock.now(),
      });
    });
    const browser = await openBrowser();
    const page = await browser.newPage();
    const url = await served(world);
    await signIn(page, url);
    for (const path of PAGES) {
      const name = path.slice(1).replaceAll('/', '-');
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        for (const width of WIDTHS) {
          await page.setViewportSize({ width, height: 900 });
          if (width === WIDTHS[0]) await page.goto(url + path);
          const wide = await page.evaluate('document.documentElement.scrollWidth');
          expect(wide, `${path} at ${width}`).toBeLessThanOrEqual(width);
          if (PICTURES && (colorScheme === 'light' || width === 820))
            await page.screenshot({
              path: join(PICTURES, `${name}-${width}-${colorScheme}.png`),
              fullPage: true,
            });
        }
        await expectAccessible(page, colorScheme === 'light' ? 'all' : 'looks');
      }
      if (PICTURES) await page.pdf({ path: join(PICTURES, `${name}.pdf`), format: 'A4' });
    }
  },
);
