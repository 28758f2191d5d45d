/** The year of the bench as it is seen on a phone, a tablet and at a desk. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { HELPED, yearDocument } from '../web/benchYear/yearWorld.js';
import { webWorld } from '../web/webWorld.js';
import {
  expectAccessible,
  expectTouchable,
  hasBrowser,
  openBrowser,
  served,
  signIn,
  WHY_NOT,
} from './browser.js';

const PICTURES = process.env.STANCHION_PICTURES;

test.runIf(hasBrowser).each([
  [390, 'en'],
  [820, 'en'],
  [1280, 'pt'],
])(`the year of the bench is whole and drawn at %i px, in %s${WHY_NOT}`, async (width, language) => {
  const document = yearDocument(HELPED);
  const said = { ...document, workshop: { ...document.workshop, language } };
  const url = await served(await webWorld({ document: said }));
  const page = await (await openBrowser({ viewport: { width, height: 900 } })).newPage();
  await signIn(page, url);
  await page.goto(`${url}/findings/year`);
  await page.locator('figure.plot').nth(2).waitFor();
  expect(await page.locator('figure.plot svg[role=img]:visible').count()).toBe(3);
  expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
  // No text of a picture lies outside it.
  expect(
    await page.evaluate(`[...document.querySelectorAll('figure.plot svg[role=img]')]
      .filter((one) => one.checkVisibility())
      .flatMap((svg) => {
        const box = svg.getBoundingClientRect();
        return [...svg.querySelectorAll('text')]
          .filter((text) => {
            const at = text.getBoundingClientRect();
            return at.left < box.left - 1 || at.right > box.right + 1 || at.top < box.top - 1 || at.bottom > box.bottom + 1;
          })
          .map((text) => text.textContent);
      })`),
  ).toEqual([]);
  await expectAccessible(page);
  if (width < 1280) await expectTouchable(page);
  if (PICTURES === undefined) return;
  mkdirSync(PICTURES, { recursive: true });
  await page.screenshot({ path: join(PICTURES, `year-${width}-${language}.png`), fullPage: true });
});
