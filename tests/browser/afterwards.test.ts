/** After the hand-over and on hire, on a phone and on a tablet, with what a finger does. */
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { DOCUMENT, webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';

const PICTURES = process.env.STANCHION_PICTURES;
const picture = async (page: Page, name: string): Promise<void> => {
  if (PICTURES) await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
};

/** Invented. */
const document = {
  ...DOCUMENT,
  fleets: [{ id: 't1', name: 'Hire bikes' }],
  bikes: [...DOCUMENT.bikes, { id: 'h1', fleet: 't1', name: 'Hire bike 1', type: 'trail' }],
  units: [...DOCUMENT.units, { tag: 'F-0901', unitKind: 'fork', model: 'Sample', history: 'new' }],
  fittings: [...DOCUMENT.fittings, { unit: 'F-0901', bike: 'h1', from: '2026-01-01', to: null }],
  services: [{ unit: 'F-0001', serviceKind: 'lower-leg', on: '2026-05-20' }],
};

test.runIf(hasBrowser).each([390, 820])(
  `a hire bike comes back and a job is a comeback at %i px${WHY_NOT}`,
  { timeout: 120_000 },
  async (width) => {
    const world = await webWorld({ document });
    const url = await served(world);
    const page = await (await openBrowser()).newPage();
    const { complaints } = watch(page);
    await page.setViewportSize({ width, height: 844 });
    await signIn(page, url);
    const fits = async (name: string): Promise<void> => {
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      await expectAccessible(page, 'looks');
      await picture(page, `afterwards-${width}-${name}`);
    };

    await page.goto(`${url}/fleets/t1/hire`);
    await page.getByText('Hire bike 1').click();
    await page.getByLabel('Hours ridden a day').fill('1.5');
    await page.getByRole('button', { name: 'It goes out: Hire bike 1' }).click();
    await page.getByText('It is out.').waitFor();

    // Back with a crack: the drawer, the tick, the button.
    await page.goto(`${url}/fleets/t1/hire`);
    let taps = 0;
    await page.getByText('Hire bike 1').click();
    taps += 1;
    await fits('hire-back');
    await page.getByLabel('cracked or bent').check();
    taps += 1;
    await page.getByRole('button', { name: 'It is back: Hire bike 1' }).click();
    taps += 1;
    await page.getByText('the mark “stop riding” is set').waitFor();
    expect(taps).toBeLessThanOrEqual(3);
    await fits('hire-marked');

    // A job that comes back: the drawer, two choices of two taps, the button.
    await page.goto(`${url}/units/F-0001`);
    await page.getByText('A unit arrives').click();
    await page.getByRole('button', { name: 'It arrived' }).click();
    await page.getByRole('status').first().waitFor();
    taps = 0;
    await page.getByText('Wish, promise, what is missing').click();
    taps += 1;
    await page.getByLabel('It comes back after').selectOption({ index: 1 });
    await page.getByLabel('Why it came back').selectOption('seal');
    taps += 4;
    await fits('comeback');
    await page.locator('form[action$="/job"] button').click();
    taps += 1;
    await page.getByText('at no charge').first().waitFor();
    expect(taps).toBeLessThanOrEqual(6);
    await page.goto(`${url}/comebacks`);
    await page.getByText('a seal').first().waitFor();
    await fits('look');
    expect(complaints).toEqual([]);
  },
);
