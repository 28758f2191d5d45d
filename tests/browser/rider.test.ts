/** The pages behind links, in a real browser. */
import { expect, it } from 'vitest';
import { startWeb } from '../../src/web/serve.js';
import { rideFile } from '../flow/flowWorld.js';
import { DOCUMENT, linksOf, RiderWorld } from '../flow/riderWorld.js';
import { expectAccessible, hasBrowser, openBrowser, WHY_NOT } from './browser.js';

/** The address of the pages as this machine serves them. */
const here = (url: string, base: string): string => base + new URL(url).pathname;

it.runIf(hasBrowser)(
  `a rider asks for a day in two taps, and every page behind a link is accessible${WHY_NOT}`,
  { timeout: 90_000 },
  async () => {
    const riders = [{ ...DOCUMENT.riders[0]!, language: 'pt' }, DOCUMENT.riders[1]!];
    const world = await RiderWorld.open({ document: { ...DOCUMENT, riders } });
    await world.flow.take(rideFile('2026-06-08T08:00:00Z', 60), { bike: 'b1' });
    const mail = await world.reminderTo('r2@example.org');
    const inPortuguese = await world.reminderTo('r1@example.org');
    const pages = await startWeb(world.app, { host: '127.0.0.1', port: 0 });
    try {
      const browser = await openBrowser();
      const page = await browser.newPage();
      await page.setViewportSize({ width: 390, height: 800 });
      const links = [...linksOf(mail).values(), ...linksOf(inPortuguese).values()];
      expect(links.length).toBe(13);
      for (const url of links) {
        await page.goto(here(url, pages.url));
        await expectAccessible(page);
        const isTooWide = await page.evaluate('document.documentElement.scrollWidth > window.innerWidth');
        expect(isTooWide, url).toBe(false);
      }
      const tapper = await (await openBrowser({ javaScriptEnabled: false })).newPage();
      // The first tap is the link in the mail, the second is a day.
      await tapper.goto(here(linksOf(mail).get('ask')!, pages.url));
      await tapper.getByRole('button', { name: 'Thursday 11 June' }).click();
      expect(await tapper.getByRole('status').textContent()).toContain('You asked for Thursday 11 June');
      expect(await world.lead('F-2')).toMatchObject({ state: 'asked-for', day: '2026-06-11' });
    } finally {
      await pages.close();
    }
  },
);
