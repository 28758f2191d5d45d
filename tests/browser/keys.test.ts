/** The workshop's daily work with the keyboard alone. Source: WCAG 2.2, 2.1.1, 2.1.2, 2.4.1, 2.4.3, 2.4.7. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { take } from '../web/takeTrack.js';
import { NAME, PASSWORD, webWorld } from '../web/webWorld.js';
import { hasBrowser, openBrowser, served, WHY_NOT, watch } from './browser.js';

/** What has the focus: its place among all that can have it, whether it is seen, and what it is. */
const FOCUSED = `(() => {
  const all = [...document.querySelectorAll('a[href],button,input:not([type=hidden]),select,textarea,summary')]
    .filter((one) => one.checkVisibility());
  const one = document.activeElement;
  const { outlineStyle, outlineWidth } = getComputedStyle(one);
  const box = one.getBoundingClientRect();
  return {
    place: all.indexOf(one),
    count: all.length,
    isMarked: outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2,
    isInView: box.width > 1 && box.height > 1 && box.bottom > 0 && box.top < innerHeight,
    name: one.getAttribute('name'),
    tag: one.tagName,
    opens: one.parentElement.querySelector(':scope > form')?.getAttribute('action') ?? '',
  };
})()`;

interface Focused {
  readonly place: number;
  readonly count: number;
  readonly isMarked: boolean;
  readonly isInView: boolean;
  readonly name: string | null;
  readonly tag: string;
  /** Where the form goes that it opens. */
  readonly opens: string;
}

const focused = (page: Page): Promise<Focused> => page.evaluate(FOCUSED);

/** Presses Tab until something has the focus; each step on the way is one that can be seen. */
async function tabTo(page: Page, isIt: (one: Focused) => boolean): Promise<void> {
  for (let step = 0; step < 200; step += 1) {
    await page.keyboard.press('Tab');
    const one = await focused(page);
    if (one.place >= 0) expect(one, page.url()).toMatchObject({ isMarked: true, isInView: true });
    if (isIt(one)) return;
  }
  throw new Error(`${page.url()}: Tab never came to what is sought`);
}

const named = (name: string) => (one: Focused) => one.name === name;

async function signInByKeys(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await tabTo(page, named('name'));
  await page.keyboard.type(NAME);
  await tabTo(page, named('password'));
  await page.keyboard.type(PASSWORD);
  await page.keyboard.press('Enter');
  await page.waitForURL((at) => at.pathname === '/');
}

test.runIf(hasBrowser)(
  `Tab comes to every control of a page in its order, marks it, and leaves again${WHY_NOT}`,
  async () => {
    const world = await webWorld();
    await take(world, { name: 'who.gpx', type: 'cycling' });
    const page = await (await openBrowser()).newPage();
    const url = await served(world);
    await signInByKeys(page, url);
    for (const path of ['/', '/due', '/tray', '/units/F-0001', '/intervals/fork/lower-leg', '/settings']) {
      await page.goto(url + path);
      const { count } = await focused(page);
      expect(count, path).toBeGreaterThan(8);
      const places: number[] = [];
      for (let step = 0; step <= count; step += 1) {
        await page.keyboard.press('Tab');
        const one = await focused(page);
        if (one.place < 0 || one.place === places[0]) break;
        places.push(one.place);
        expect(one, path).toMatchObject({ isMarked: true, isInView: true });
      }
      // Past the last one the focus leaves the page, or begins again: nothing holds it.
      expect(places, path).toEqual([...new Set(places)].sort((a, b) => a - b));
      // Of choices that exclude one another Tab comes to one; arrows go on.
      const radios: number = await page.evaluate(
        `(() => { const names = [...document.querySelectorAll('input[type=radio]')].map((one) => one.name); return names.length - new Set(names).size; })()`,
      );
      expect(places.length, path).toBe(count - radios);
    }
  },
  120_000,
);

test.runIf(hasBrowser)(
  `one signs in, passes over the way through the pages, answers the tray and logs a service by keys alone${WHY_NOT}`,
  async () => {
    const world = await webWorld();
    await take(world, { name: 'who.gpx', type: 'cycling' });
    const page = await (await openBrowser()).newPage();
    const { complaints } = watch(page);
    const url = await served(world);
    await signInByKeys(page, url);

    await page.keyboard.press('Tab');
    expect((await focused(page)).place).toBe(0);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    expect(await page.evaluate('document.querySelector("main").contains(document.activeElement)')).toBe(true);

    await page.goto(`${url}/tray`);
    await tabTo(page, named('rider'));
    await page.keyboard.press('ArrowDown');
    await tabTo(page, ({ tag }) => tag === 'BUTTON');
    await page.keyboard.press('Enter');
    await page.waitForLoadState();
    expect(await page.getByRole('status').textContent()).toMatch(/counts|question/i);

    await page.goto(`${url}/units/F-0001/service`);
    await tabTo(page, named('kind'));
    await tabTo(page, named('on'));
    await page.keyboard.press('Enter');
    await page.waitForURL(/done=service/);
    expect(await page.getByRole('status').textContent()).toMatch(/\S/);
    expect(complaints).toEqual([]);
  },
  120_000,
);
