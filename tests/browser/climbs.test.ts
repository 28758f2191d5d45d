import type { Locator, Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { getCourse } from '../../samples/courses.js';
import { fitRide } from '../../samples/fitRide.js';
import { rideOver } from '../../samples/ridden.js';
import { fitOptions } from '../../samples/season.js';
import { pageTextsFor } from '../../src/languages/index.js';
import { startWeb } from '../../src/web/serve.js';
import { linkOf, RiderWorld, withWorkshop } from '../flow/riderWorld.js';
import { takeFile } from '../web/takeTrack.js';
import { webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';

const { STANCHION_PICTURES: PICTURES } = process.env;

/** Invented: three laps up by van, down by bike. */
function vanDay(): Uint8Array {
  const order = { seed: 'climbs', pace: 1, sampling: 'second', halts: 0, stopsRecorder: false } as const;
  const startMs = Date.parse('2026-06-07T07:00:00Z');
  return fitRide(rideOver({ ...order, course: getCourse('van day'), startMs }), fitOptions('downhill'));
}

const outputs = (page: Page): Locator => page.locator('output');
/** Both sums as they stand on the page, in hours. */
const sumsOn = async (page: Page): Promise<number[]> =>
  (await outputs(page).allTextContents()).map((text) =>
    Number(text.replace(/\u00a0h$/, '').replace(',', '.')),
  );

/** What is ticked counts and what is not is left out, whichever; both sums together are the day. */
async function expectSumsToFollow(page: Page): Promise<void> {
  const boxes = page.locator('input[name^="climb-"]');
  const all = await boxes.all();
  expect(all.length).toBeGreaterThanOrEqual(3);
  for (const box of all) await box.setChecked(true);
  const [whole, none] = await sumsOn(page);
  expect(none).toBe(0);
  let before = 0;
  for (const box of all) {
    await box.setChecked(false);
    const [counted, left] = await sumsOn(page);
    expect(left).toBeGreaterThan(before);
    expect(Math.abs(counted! + left! - whole!)).toBeLessThanOrEqual(0.11);
    before = left!;
  }
}

test.runIf(hasBrowser)(
  `both sums follow the ticks of a day's climbs, and the page fits a phone${WHY_NOT}`,
  { timeout: 90_000 },
  async () => {
    const world = await webWorld();
    await takeFile(world, { name: 'van.fit', rider: 'r1', bytes: vanDay() });
    const page = await (await openBrowser()).newPage();
    const url = await served(world);
    await signIn(page, url);
    await page.setViewportSize({ width: 390, height: 800 });
    await page.goto(`${url}/tray`);
    await expectAccessible(page);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(390);
    await expectSumsToFollow(page);
    if (PICTURES !== undefined) await page.screenshot({ path: `${PICTURES}/climbs-390.png`, fullPage: true });
  },
);

test.runIf(hasBrowser).each(['en', 'pt'])(
  `a rider ticks the climbs of a day on the own page in %s, and is told what counts${WHY_NOT}`,
  { timeout: 120_000 },
  async (language) => {
    const world = await RiderWorld.open({
      document: {
        ...withWorkshop({}),
        riders: [
          { id: 'r1', name: 'Pia Lanternby', email: 'r1@example.org', addressConfirmed: true, language },
        ],
        bikes: [{ id: 'b1', rider: 'r1', name: 'Moss Hopper', type: 'gravity' }],
        units: [
          {
            tag: 'F-1',
            unitKind: 'fork',
            history: { terrainHours: 52, movingHours: 52, asOf: '2026-06-01' },
          },
        ],
        fittings: [{ unit: 'F-1', bike: 'b1', from: '2026-01-01' }],
      },
      publicUrl: 'http://bench.example.org',
      isOneClick: false,
    });
    const home = new URL(linkOf(await world.reminderTo('r1@example.org'), 'page')).pathname;
    await world.flow.take(vanDay(), { name: 'van.fit', bike: 'b1' });
    const pages = await startWeb(world.app, { host: '127.0.0.1', port: 0 });
    onTestFinished(() => pages.close());
    const { tray } = pageTextsFor(language);
    const page = await (await openBrowser()).newPage();
    const { complaints } = watch(page);
    for (const width of [1280, 390]) {
      await page.setViewportSize({ width, height: 844 });
      await page.goto(`${pages.url}${home}/rides`);
      await expectAccessible(page);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
      if (PICTURES !== undefined)
        await page.screenshot({ path: `${PICTURES}/own-climbs-${language}-${width}.png`, fullPage: true });
    }
    expect(complaints).toEqual([]);
    await expectSumsToFollow(page);
    // Two were driven, the last one was ridden: the answer says what the page showed.
    await page.locator('input[name^="climb-"]').last().setChecked(true);
    const [counted, left] = (await outputs(page).allTextContents()) as [string, string];
    await page.getByRole('button', { name: tray.answer, exact: true }).first().click();
    await page.getByText(tray.climbs.sums(counted, left)).waitFor();
    expect(await outputs(page).count()).toBe(0);
    await world.flow.expectSound();
    expect(complaints).toEqual([]);
  },
);
