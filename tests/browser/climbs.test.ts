import { expect, test } from 'vitest';
import { getCourse } from '../../samples/courses.js';
import { fitRide } from '../../samples/fitRide.js';
import { rideOver } from '../../samples/ridden.js';
import { fitOptions } from '../../samples/season.js';
import { takeFile } from '../web/takeTrack.js';
import { webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT } from './browser.js';

test.runIf(hasBrowser)(
  `both sums follow the ticks of a day's climbs, and the page fits a phone${WHY_NOT}`,
  { timeout: 90_000 },
  async () => {
    const world = await webWorld();
    const order = { seed: 'climbs', pace: 1, sampling: 'second', halts: 0, stopsRecorder: false } as const;
    const startMs = Date.parse('2026-06-07T07:00:00Z');
    const ridden = rideOver({ ...order, course: getCourse('van day'), startMs });
    await takeFile(world, { name: 'van.fit', rider: 'r1', bytes: fitRide(ridden, fitOptions('downhill')) });
    const page = await (await openBrowser()).newPage();
    const url = await served(world);
    await signIn(page, url);
    await page.setViewportSize({ width: 390, height: 800 });
    await page.goto(`${url}/tray`);
    await expectAccessible(page);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(390);
    const boxes = page.locator('input[name^="climb-"]');
    const sums = async (): Promise<number[]> =>
      (await page.locator('output').allTextContents()).map((text) => Number(text.replace(/\u00a0h$/, '')));
    for (const box of await boxes.all()) await box.setChecked(true);
    const [all, none] = await sums();
    expect(none).toBe(0);
    await boxes.first().setChecked(false);
    const [counted, left] = await sums();
    expect(left).toBeGreaterThan(0);
    expect(counted! + left!).toBeCloseTo(all!, 0);
    if (process.env.STANCHION_PICTURES !== undefined)
      await page.screenshot({ path: `${process.env.STANCHION_PICTURES}/climbs-390.png`, fullPage: true });
  },
);
