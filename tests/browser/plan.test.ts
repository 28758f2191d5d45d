import { describe, expect, test } from 'vitest';
import { planDocument } from '../web/planWorld.js';
import { DOCUMENT, webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT } from './browser.js';

const PAGES = ['/load', '/races', '/races/r-oak', '/day', '/findings'];
/** Source: ISO 216, A4 is 210 × 297 mm; a point is 1/72 inch. */
const A4_POINTS = [595.3, 841.9];

describe.skipIf(!hasBrowser)(`the planning pages in a browser${WHY_NOT}`, () => {
  test('are accessible and fit a phone', async () => {
    const url = await served(await webWorld({ document: planDocument(DOCUMENT, 20) }));
    const page = await (await openBrowser()).newPage();
    await signIn(page, url);
    for (const path of PAGES) {
      await page.setViewportSize({ width: 1280, height: 900 });
      await page.goto(url + path);
      await expectAccessible(page);
      await page.setViewportSize({ width: 390, height: 844 });
      await expectAccessible(page, 'looks');
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth'), path).toBe(true);
    }
  });

  test('print on A4: a race on one sheet, a bench card on each sheet after the list', async () => {
    const url = await served(await webWorld({ document: planDocument(DOCUMENT) }));
    const page = await (await openBrowser()).newPage();
    await signIn(page, url);
    const sheetsOf = async (path: string): Promise<number[][]> => {
      await page.goto(url + path);
      const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
      return [...pdf.matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, x, y]) => [
        Number(x),
        Number(y),
      ]);
    };
    const race = await sheetsOf('/races/r-oak');
    expect(race).toHaveLength(1);
    for (const [i, points] of A4_POINTS.entries()) expect(Math.abs(race[0]![i]! - points)).toBeLessThan(1);
    // Two jobs: a sheet for the list, and one for each card.
    expect(await sheetsOf('/day?on=2026-06-12')).toHaveLength(3);
  });
});
