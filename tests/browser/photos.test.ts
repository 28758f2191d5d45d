/** A photograph from the bench to paper, in a browser: sent as it is chosen, while what is typed stays. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { originalsIn } from '../../src/inbox/originals.js';
import { partsIn } from '../../src/inbox/parts.js';
import { encodePhoto } from '../../src/photos/encodePhoto.js';
import { createApp } from '../../src/web/app.js';
import { phonePicture, ringsPicture } from '../fixtures/photos.js';
import { scratchFolder } from '../fixtures/program.js';
import { webWorld } from '../web/webWorld.js';
import {
  expectAccessible,
  expectTouchable,
  hasBrowser,
  openBrowser,
  served,
  signIn,
  WHY_NOT,
  watch,
} from './browser.js';

const PICTURES = process.env.STANCHION_PICTURES;
/** Every picture on the page came, and is one. */
const LOADED = `Promise.all([...document.querySelectorAll('.photos img')].map(async (one) => {
  one.loading = 'eager';
  await one.decode();
  return one.naturalWidth > 0;
}))`;

test.runIf(hasBrowser).each([390, 820])(
  `a picture is sent as it is chosen, kept with the service, and stands in the book and on paper at %i px${WHY_NOT}`,
  { timeout: 120_000 },
  async (width) => {
    const world = await webWorld();
    const folder = scratchFolder();
    const photos = {
      maker: { make: encodePhoto },
      files: originalsIn(join(folder, 'photos')),
      parts: partsIn(join(folder, 'parts')),
    };
    const url = await served({ app: createApp({ ...world.deps, photos }) });
    const files = [
      { name: 'rings.png', mimeType: 'image/png', buffer: Buffer.from(await ringsPicture()) },
      { name: 'unit.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(await phonePicture()) },
    ];
    const page = await (await openBrowser({ viewport: { width, height: 900 } })).newPage();
    const { complaints } = watch(page);
    await signIn(page, url);
    const look = async (name: string): Promise<void> => {
      if (PICTURES === undefined) return;
      mkdirSync(PICTURES, { recursive: true });
      await page.screenshot({ path: join(PICTURES, `photos-${width}-${name}.png`), fullPage: true });
    };

    await page.goto(`${url}/units/F-0001/service`);
    await page.locator('textarea[name="note"],input[name="note"]').first().fill('Rings dark, oil brown');
    await page.locator('.photo-box summary').click();
    await page.locator('input[type=file][multiple]').setInputFiles(files);
    await page.locator('.photos li').nth(1).waitFor();
    expect(await page.evaluate(LOADED)).toEqual([true, true]);
    // What was typed is still there: the page was not left.
    expect(await page.locator('textarea[name="note"],input[name="note"]').first().inputValue()).toBe(
      'Rings dark, oil brown',
    );
    await expectAccessible(page);
    await expectTouchable(page);
    await look('service');

    // One that was wrong is taken back; another is chosen again without a new page.
    await page.locator('.photos form button').first().click();
    await page.getByRole('status').first().waitFor();
    expect(await page.locator('.photos li').count()).toBe(1);
    await page.locator('.photo-box summary').click();
    await page.locator('input[type=file][multiple]').setInputFiles(files.slice(0, 1));
    await page.locator('.photos li').nth(1).waitFor();

    // What is no picture is refused in words, and the page stays.
    const bad = join(folder, 'notes.txt');
    writeFileSync(bad, 'no picture');
    await page.locator('input[type=file][multiple]').setInputFiles(bad);
    await page.locator('[data-said]:not(:empty)').waitFor();
    await expect.poll(() => page.locator('[data-said]').first().textContent()).toContain('notes.txt');
    expect(await page.locator('.photos li').count()).toBe(2);
    await look('refused');

    await page.goto(`${url}/units/F-0001/service`);
    await page.locator('main form:not([data-photos]) button:not(.quiet)').last().click();
    await page.getByRole('status').first().waitFor();
    await page.goto(`${url}/units/F-0001`);
    expect(await page.evaluate(LOADED)).toEqual([true, true]);
    await look('unit');
    await page.goto(`${url}/units/F-0001/card`);
    await page.emulateMedia({ media: 'print' });
    await look('card');
    const sheets = await page.pdf({ format: 'A4' });
    expect(sheets.byteLength).toBeGreaterThan(10_000);
    expect(complaints.filter((one) => !one.includes('422') && !one.includes('status of'))).toEqual([]);
  },
);
