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

/** Source: ISO 216, A4 is 210 × 297 mm; a point is 1/72 inch. */
const A4_POINTS = [595.3, 841.9];

/** What lies on each sheet. Source: ISO 32000-1, 7.7.3.3 (page objects) and 8.9.5 (images). */
function sheetsOf(file: Buffer): { readonly size: readonly number[]; readonly images: number }[] {
  const pdf = file.toString('latin1');
  const objects = new Map(
    [...pdf.matchAll(/(?:^|\n)(\d+) 0 obj\s*([\s\S]*?)\s*endobj/g)].map(([, id, body]) => [id!, body!]),
  );
  const pages = [...objects.values()].filter((body) => /\/Type\s*\/Page\b(?!s)/.test(body));
  return pages.map((body) => {
    const [, x, y] = /\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/.exec(body) ?? [];
    const [, named = ''] = /\/XObject\s*<<([^>]*)>>/.exec(body) ?? [];
    const images = [...named.matchAll(/(\d+) 0 R/g)].filter(([, id]) =>
      /\/Subtype\s*\/Image/.test(objects.get(id!) ?? ''),
    );
    return { size: [Number(x), Number(y)], images: images.length };
  });
}

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
    await expect.poll(() => page.evaluate(LOADED)).toEqual([true, true]);
    await look('card');
    const printed = await page.pdf({ preferCSSPageSize: true });
    if (PICTURES !== undefined) writeFileSync(join(PICTURES, `photos-${width}-card.pdf`), printed);
    const sheets = sheetsOf(printed);
    // The card is one sheet, and the photographs stand on the second.
    expect(sheets.map(({ images }) => images)).toEqual([0, 2]);
    for (const { size } of sheets)
      for (const [i, points] of A4_POINTS.entries()) expect(Math.abs(size[i]! - points)).toBeLessThan(1);
    expect(complaints.filter((one) => !one.includes('422') && !one.includes('status of'))).toEqual([]);
  },
);
