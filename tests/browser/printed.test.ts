/** What every page of the table of routes looks like on A4. */
import { expect, test } from 'vitest';
import { addressOf, guarded, idsIn } from '../web/everyRoute.js';
import { teamWorld } from '../web/teamWorld.js';
import { hasBrowser, openBrowser, served, signIn, WHY_NOT } from './browser.js';
import { pdfSheets } from './pdfSheets.js';

/** Of what is printed to be read, more than so many sheets are a fault with so small a workshop. */
const MOST_SHEETS: Readonly<Record<string, number>> = {
  // The second has its photographs.
  'GET /units/:tag/card': 2,
  'GET /units/:tag/inspect': 1,
  'GET /riders/:handle/labels': 1,
  'GET /units/:tag/book': 2,
  'GET /races/:race': 1,
  'GET /fleets/:fleet': 1,
  'GET /due': 1,
  'GET /': 2,
};
/** Fewer lines than this on the last sheet are left over. */
const LEAST_LINES = 3;

/** A4 at 96 to the inch, without its margins. */
const WIDE_PX = 688;

/** Nothing to press or to fill in by keys, but what is filled in by hand. */
const PRESSED =
  'button, .button, input:not(form.by-hand *, form.kept *), select:not(form.kept *), summary:not(.listed *)';

test.runIf(hasBrowser)(
  `every page prints as tables and text, with no sheet for a line that is left over${WHY_NOT}`,
  { timeout: 120_000 },
  async () => {
    const world = await teamWorld();
    const ids = await idsIn(world);
    const url = await served(world);
    const page = await (await openBrowser()).newPage();
    await signIn(page, url);
    // A dark screen prints black on white too.
    await page.setViewportSize({ width: WIDE_PX, height: 900 });
    const wrong: string[] = [];
    let printed = 0;
    for (const entry of guarded.filter(({ method }) => method === 'GET')) {
      await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
      const answer = await page.goto(url + addressOf(entry, ids.shop)).catch(() => null);
      if (answer?.status() !== 200 || !(answer.headers()['content-type'] ?? '').includes('html')) continue;
      printed += 1;
      const seen = (await page.evaluate(`({
        pressed: [...document.querySelectorAll(${JSON.stringify(PRESSED)})]
          .filter((one) => one.checkVisibility()).map((one) => one.outerHTML.slice(0, 120)),
        tables: [...new Set([...document.querySelectorAll('main table')]
          .filter((one) => one.checkVisibility()).map((one) => getComputedStyle(one).display))],
        colours: [...new Set([...document.querySelectorAll('main *')]
          .filter((one) => one.checkVisibility() && one.textContent.trim() !== '' && one.closest('svg') === null)
          .map((one) => getComputedStyle(one).color))],
        bare: [...document.querySelectorAll('main :is(h2, h3)')]
          .filter((one) => one.checkVisibility() && one.nextElementSibling !== null)
          .filter((one) => {
            for (let next = one.nextElementSibling; next !== null && !/^H[123]$/.test(next.tagName); next = next.nextElementSibling)
              if (next.checkVisibility() && (next.textContent.trim() !== '' || next.querySelector('svg, img') !== null)) return false;
            return true;
          }).map((one) => one.textContent),
        wide: document.documentElement.scrollWidth,
      })`)) as { pressed: string[]; tables: string[]; colours: string[]; bare: string[]; wide: number };
      await page.emulateMedia({ media: null, colorScheme: null });
      const sheets = pdfSheets(await page.pdf({ preferCSSPageSize: true }));
      const last = sheets.at(-1)!;
      const isLeftOver = sheets.length > 1 && last.lines < LEAST_LINES && !last.hasPicture;
      const faults = [
        ...seen.pressed.map((tag) => `can be pressed: ${tag}`),
        ...seen.bare.map((heading) => `heads nothing: ${heading}`),
        ...seen.tables.filter((display) => display !== 'table').map((display) => `a table is ${display}`),
        ...seen.colours.filter((colour) => colour !== 'rgb(0, 0, 0)').map((colour) => `text in ${colour}`),
        ...(seen.wide > WIDE_PX ? [`${seen.wide} px wide`] : []),
        ...(sheets.length > (MOST_SHEETS[entry.key] ?? 9) ? [`${sheets.length} sheets`] : []),
        ...(isLeftOver ? [`left over on sheet ${sheets.length}: ${last.lines} lines`] : []),
      ];
      wrong.push(...faults.map((fault) => `${entry.key} ${fault}`));
    }
    expect(wrong).toEqual([]);
    expect(printed).toBeGreaterThan(50);
  },
);
