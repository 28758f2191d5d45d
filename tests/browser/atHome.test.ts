/** A job that a rider does at home, on a phone and on a tablet, with what a finger does; then whom the workshop calls. */
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { encodePhoto } from '../../src/photos/encodePhoto.js';
import { startWeb } from '../../src/web/serve.js';
import { ringsPicture } from '../fixtures/photos.js';
import { DOCUMENT, linkOf, RiderWorld, withWorkshop } from '../flow/riderWorld.js';
import { cheapHash, NAME, PASSWORD } from '../web/webWorld.js';
import {
  expectAccessible,
  expectTouchable,
  hasBrowser,
  openBrowser,
  signIn,
  WHY_NOT,
  watch,
} from './browser.js';

const PICTURES = process.env.STANCHION_PICTURES;
const MODEL = 'Sample fork T-150';
/** Invented, figures and all. */
const document = {
  ...withWorkshop({
    phone: '+000 555 0100',
    homeJobs: [
      { unitKind: 'fork', serviceKind: 'lower-leg', model: MODEL, stopHere: 'A foot nut whose stud turns' },
    ],
  }),
  units: DOCUMENT.units.map((unit) => ({ ...unit, model: MODEL })),
  sheets: [
    {
      unitKind: 'fork',
      scope: { model: MODEL, modelYear: null, unit: null },
      edition: 'Invented manual 3',
      values: { airMl: 'as on page 14', airTorque: 'as on page 15' },
      typedBy: 'Bea Spanner',
      checkedBy: null,
    },
  ],
};

test.runIf(hasBrowser).each([390, 820])(
  `a rider does a job at home in six taps beside reading, and the workshop hears of scratches at %i px${WHY_NOT}`,
  { timeout: 120_000 },
  async (width) => {
    const world = await RiderWorld.open({
      document,
      publicUrl: 'http://bench.example.org',
      isOneClick: false,
      makePhoto: encodePhoto,
    });
    const account = { name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' } as const;
    await world.store.write((tx) => tx.accounts.add(account));
    const pages = await startWeb(world.app, { host: '127.0.0.1', port: 0 });
    onTestFinished(() => pages.close());
    const { url } = pages;
    const page = await (await openBrowser({ viewport: { width, height: 844 } })).newPage();
    const { complaints } = watch(page);
    const looked = async (name: string): Promise<void> => {
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth'), name).toBe(true);
      await expectAccessible(page, 'looks');
      await expectTouchable(page);
      await picture(page, `at-home-${width}-${name}`);
    };

    const link = new URL(linkOf(await world.reminderTo('r1@example.org'), 'page'));
    await page.goto(url + link.pathname);
    await looked('bikes');
    let taps = 0;
    const tap = async (act: () => Promise<unknown>): Promise<void> => {
      taps += 1;
      await act();
    };
    await tap(() => page.getByRole('button', { name: 'I do it myself' }).first().click());
    await page.getByText('The workshop gets your kit ready').waitFor();
    await page.locator('#log').waitFor();
    await looked('guide');
    await page.emulateMedia({ media: 'print' });
    // On paper the way through stands without the forms.
    expect(await page.locator('#log form').isVisible()).toBe(false);
    expect(await page.getByText('Stop here and bring it').first().isVisible()).toBe(true);
    await picture(page, `at-home-${width}-paper`);
    await page.emulateMedia({ media: 'screen' });

    for (const answer of ['dark', 'scratched', 'smooth', 'none'])
      await tap(() => page.locator('#log .tap', { hasText: new RegExp(`^${answer}$`) }).click());
    await looked('answered');
    const photograph = {
      name: 'rings.png',
      mimeType: 'image/png',
      buffer: Buffer.from(await ringsPicture({ format: 'png' })),
    };
    await tap(() => page.locator('#log input[type=file]').setInputFiles(photograph));
    await page.getByText('is logged as done at home').waitFor();
    expect(taps).toBeLessThanOrEqual(6);
    await looked('logged');
    const [photo] = await world.store.read((tx) => tx.facts.list('photo'));
    expect(photo!.body).toMatchObject({ takenBy: 'rider', serviceId: expect.any(String) });

    await signIn(page, url);
    await page.goto(url);
    await page.getByText('Done at home: one rider to call').waitFor();
    await looked('today');
    await page.getByRole('button', { name: 'Called: F-1' }).click();
    await page.getByRole('heading', { level: 1 }).waitFor();
    await expect.poll(() => page.getByText('Done at home').count()).toBe(0);
    expect(complaints).toEqual([]);
  },
);

async function picture(page: Page, name: string): Promise<void> {
  if (PICTURES) await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
}
