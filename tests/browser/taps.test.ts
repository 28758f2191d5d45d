/** How many taps the bench's daily work takes beside typing, on a tablet and at a desk. */
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { take } from '../web/takeTrack.js';
import { webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';
import { Finger, told } from './hands.js';

const DAY_MS = 86_400_000;
const PICTURES = process.env.STANCHION_PICTURES;

const picture = async (page: Page, name: string): Promise<void> => {
  if (PICTURES) await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
};

test.runIf(hasBrowser).each([820, 1280])(
  `a job, a service and a season’s tray at %i px${WHY_NOT}`,
  { timeout: 180_000 },
  async (width) => {
    const world = await webWorld();
    for (let i = 0; i < 46; i++)
      await take(world, {
        name: `season/${i}.gpx`,
        type: 'cycling',
        startMs: Date.parse('2026-04-01T07:00:00Z') + i * DAY_MS,
      });
    const browser = await openBrowser();
    const page = await browser.newPage();
    const watched = watch(page);
    await page.setViewportSize({ width, height: 900 });
    const url = await served(world);
    await signIn(page, url);

    // Arrived with a promise, on the bench, serviced, told, collected.
    const job = new Finger(page);
    await job.link('Bench');
    await job.type(page.locator('#tag'), 'F-0001');
    await job.type(page.getByLabel('What the rider wants').last(), 'quieter, please');
    await job.choose(page.getByLabel('Promised for').last(), '2026-06-12');
    await job.button('It arrived');
    await job.button('Onto the bench');
    await picture(page, `board-${width}`);
    await expectAccessible(page, 'looks');
    const log = new Finger(page);
    await log.link('Log the service');
    await picture(page, `service-${width}`);
    for (const look of ['foamRings', 'oil', 'wipers', 'foamRingsNow', 'wipersNow'])
      await log.tap(page.locator(`label.tap:has(input[name="${look}"])`).nth(1));
    await log.button('Log this service');
    expect(await page.getByRole('status').textContent()).toContain('The service is logged');
    await job.button('Rider was called');
    await job.button('Collected');
    expect(await page.locator('main').textContent()).toContain('No unit is at the workshop');
    expect(log.taps).toBeLessThanOrEqual(12);
    // The service itself is two of the job's taps: its page, and to log it.
    job.taps += 2;
    expect(job.taps).toBeLessThanOrEqual(10);
    expect(told('A job, from arrived to collected', width)).toBe(job.counted());
    expect(told('A service logged from the board', width)).toBe(log.counted());

    // A season of 46 rides on two bikes: those from a day on are one bike's, the rest the other's.
    const tray = new Finger(page);
    await tray.link(/^Tray/);
    await picture(page, `tray-${width}`);
    await tray.tap(page.getByLabel('From day').first());
    await tray.type(page.getByLabel('From day').first(), '2026-04-17');
    await tray.button(/^All on Green trail bike/);
    expect(await page.getByRole('status').textContent()).toContain('30 counted');
    await tray.button(/^All on Bike "2"/);
    expect(await page.locator('main').textContent()).toContain('The tray is empty');
    expect(tray.taps).toBeLessThanOrEqual(6);
    expect(told('46 rides with two bikes in the tray', width)).toBe(tray.counted());
    for (const path of ['', 'due', 'units/F-0001', 'units/F-0001/day', 'leads']) {
      await page.goto(`${url}/${path}`);
      await picture(page, `${path.replaceAll('/', '-') || 'today'}-${width}`);
    }
    expect(watched.complaints).toEqual([]);
  },
);
