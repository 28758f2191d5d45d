import { expect, test } from 'vitest';
import { getCourse } from '../../samples/courses.js';
import { fitRide } from '../../samples/fitRide.js';
import { rideOver } from '../../samples/ridden.js';
import { fitOptions } from '../../samples/season.js';
import { allRides } from '../fixtures/allRides.js';
import { takeFile } from '../web/takeTrack.js';
import { webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT } from './browser.js';

test.runIf(hasBrowser)(
  `a ride's page is accessible and fits, and shows one picture for each width${WHY_NOT}`,
  { timeout: 90_000 },
  async () => {
    const world = await webWorld();
    const order = { seed: 'browser', pace: 1, sampling: 'smart', halts: 1, stopsRecorder: true } as const;
    const ridden = rideOver({
      ...order,
      course: getCourse('park day'),
      startMs: Date.parse('2026-06-08T07:00:00Z'),
    });
    await takeFile(world, {
      name: `a-long-name-${'without-a-break'.repeat(6)}.fit`,
      rider: 'r1',
      bytes: fitRide(ridden, fitOptions('downhill')),
    });
    const ride = (await world.store.read((tx) => allRides(tx))).find((one) => one.source === 'recorded')!;
    const page = await (await openBrowser()).newPage();
    const url = await served(world);
    await signIn(page, url);
    await page.goto(`${url}/rides/${ride.id}`);
    await expectAccessible(page);
    const picture = page.getByRole('img', { name: /Elevation along the ride/ });
    for (const [width, colorScheme, shown] of [
      [1280, 'light', 'wide'],
      [390, 'dark', 'slim'],
      [320, 'light', 'slim'],
    ] as const) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 800 });
      await expectAccessible(page, 'looks');
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
      expect(await picture.count()).toBe(1);
      expect(await picture.getAttribute('class')).toBe(shown);
    }
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    // Ink on paper, whatever the screen's colours are.
    const ink = await page.evaluate(
      'getComputedStyle(document.querySelector("figure.plot")).color + getComputedStyle(document.body).color',
    );
    expect(ink).toBe('rgb(0, 0, 0)rgb(0, 0, 0)');
  },
);
