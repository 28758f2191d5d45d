/**
 * A rider's season on a phone, 390 px wide, in each language: taps are counted, every page is measured, and nothing goes
 * wrong unseen. A tap is what a finger does beside typing; a choice from a list is two.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { expect, it, onTestFinished } from 'vitest';
import { riderTextsFor } from '../../src/languages/index.js';
import { startWeb } from '../../src/web/serve.js';
import { textBytes } from '../fixtures/gpxFile.js';
import { zipFile } from '../fixtures/zipFile.js';
import { rideFile, WORKSHOP } from '../flow/flowWorld.js';
import { linkOf, RiderWorld } from '../flow/riderWorld.js';
import { expectAccessible, hasBrowser, openBrowser, WHY_NOT, watch } from './browser.js';

/** A folder for pictures of the pages, to look at. */
const { STANCHION_PICTURES: PICTURES } = process.env;
const TALLEST_PX = 4_000;

/** Invented: two bikes with forks; the green one has run nearly all of its hours. */
const document = (language: string) => ({
  workshop: { ...WORKSHOP, phone: '+000 555 0100', openingHours: '9-18', address: '1 Sample Lane' },
  riders: [{ id: 'r1', name: 'Pia Lanternby', email: 'r1@example.org', addressConfirmed: true, language }],
  bikes: [
    { id: 'b1', rider: 'r1', name: 'Green', type: 'trail' },
    { id: 'b2', rider: 'r1', name: 'Red', type: 'gravity' },
  ],
  units: [
    {
      tag: 'F-1',
      unitKind: 'fork',
      model: 'Sample fork T-150',
      history: { terrainHours: 60, movingHours: 60, asOf: '2026-03-01' },
    },
    { tag: 'F-2', unitKind: 'fork', history: 'new' },
  ],
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2026-03-01' },
    { unit: 'F-2', bike: 'b2', from: '2026-03-01' },
  ],
});

/** Of 46 rides since March 41 are on one profile and 5 on another; before March and indoors lie others. */
const SEASON = Array.from({ length: 46 }, (_, i) => ({
  on: new Date(Date.parse('2026-03-03T08:00:00Z') + i * 2 * 86_400_000).toISOString(),
  profile: i % 10 === 9 || i === 45 ? 'DOWNHILL' : 'MOUNTAIN',
}));

const exported = (): Uint8Array =>
  zipFile([
    ...SEASON.map(({ on, profile }, i) => ({
      name: `2026/ride-${i}.fit`,
      bytes: rideFile(on, 100 + (i % 5) * 4, { profile }),
    })),
    { name: '2025/old.fit', bytes: rideFile('2025-12-30T08:00:00Z', 60, { profile: 'MOUNTAIN' }) },
    { name: '2026/home.fit', bytes: rideFile('2026-03-04T20:00:00Z', 60, { subSport: 'indoor_cycling' }) },
    ...Array.from({ length: 30 }, (_, i) => ({ name: `photos/${i}.jpg`, bytes: textBytes(`photo ${i}`) })),
    { name: 'list.csv', bytes: textBytes('day,hours') },
  ]);

/** A finger that counts. */
class Taps {
  count = 0;
  constructor(
    readonly page: Page,
    readonly name: string,
  ) {}
  async tap(what: Locator): Promise<void> {
    this.count += 1;
    await what.click();
  }
  /** Looks at the page as it is now. */
  async look(step: string): Promise<void> {
    const { page } = this;
    const height = await page.evaluate('document.documentElement.scrollHeight');
    expect(height, step).toBeLessThanOrEqual(TALLEST_PX);
    expect(await page.evaluate('document.documentElement.scrollWidth'), step).toBeLessThanOrEqual(390);
    await expectAccessible(page);
    if (PICTURES === undefined) return;
    mkdirSync(PICTURES, { recursive: true });
    await page.screenshot({ path: join(PICTURES, `${this.name}-${step}.png`), fullPage: true });
  }
  taken(): number {
    const { count } = this;
    this.count = 0;
    return count;
  }
}

async function opened(language: string) {
  const world = await RiderWorld.open({
    document: document(language),
    publicUrl: 'http://bench.example.org',
    isOneClick: false,
  });
  const home = new URL(linkOf(await world.reminderTo('r1@example.org'), 'page')).pathname;
  const pages = await startWeb(world.app, { host: '127.0.0.1', port: 0 });
  onTestFinished(() => pages.close());
  const page = await (await openBrowser({ viewport: { width: 390, height: 844 } })).newPage();
  const { complaints } = watch(page);
  await page.goto(pages.url + home);
  return { world, page, complaints, home: pages.url + home };
}

const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });

it.runIf(hasBrowser).each(['en', 'pt'])(
  `a rider’s season in %s${WHY_NOT}`,
  { timeout: 240_000 },
  async (language) => {
    const { world, page, complaints } = await opened(language);
    const { own } = riderTextsFor(language);
    const finger = new Taps(page, language);
    await finger.look('1-bikes');

    // The first sending: 46 rides on two bikes, with what an export holds beside.
    await finger.tap(page.getByRole('link', { name: own.nav.files }));
    await finger.look('2-files');
    finger.count += 1;
    await page
      .getByLabel(own.files.choose)
      .setInputFiles({ name: 'export.zip', mimeType: 'application/zip', buffer: Buffer.from(exported()) });
    await finger.tap(button(page, own.files.submit));
    await page.getByText(own.files.progress('48', '48'), { exact: true }).waitFor();
    await finger.look('3-sent');
    await finger.tap(page.getByRole('link', { name: own.files.toAnswer }));
    await finger.look('4-sets');
    const sets = page.locator('fieldset.step');
    expect(await sets.count()).toBe(2);
    expect(await sets.first().getByLabel('Green').isChecked()).toBe(true);
    expect(await sets.last().getByLabel('Red').isChecked()).toBe(true);
    await finger.tap(button(page, own.rides.sets.submit));
    await finger.look('5-saved');
    expect(finger.taken()).toBeLessThanOrEqual(5);
    // All that was asked changed something: each ride counts now, and nothing waits.
    const riderId = await world.flow.id('rider', 'r1');
    const all = await world.store.read((tx) => tx.rides.listLatestOfRider(riderId, 99));
    // The profile tells the bike of the ride before the fork too, to which it adds nothing.
    const rides = all.filter(({ day }) => day! >= '2026-03-01');
    const green = await world.flow.id('bike', 'b1');
    expect(rides.filter(({ bikeId }) => bikeId === green)).toHaveLength(
      SEASON.filter(({ profile }) => profile === 'MOUNTAIN').length,
    );
    expect(rides).toHaveLength(46);
    expect(await world.store.read((tx) => tx.rides.countAsking())).toBe(0);

    await world.flow.expectSound();
    expect(complaints).toEqual([]);
  },
);

it.runIf(hasBrowser)(
  `waits out a lost signal, and goes on from there${WHY_NOT}`,
  { timeout: 60_000 },
  async () => {
    const { world, page, home } = await opened('en');
    const { files } = riderTextsFor('en').own;
    await page.goto(`${home}/files`);
    let sent = 0;
    await page.route('**/files', (route) => {
      if (route.request().method() !== 'POST') return route.continue();
      sent += 1;
      // The second portion is lost twice: on its way, and after it was taken.
      if (sent === 2) return route.abort();
      return sent === 3 ? route.fetch().then(() => route.abort()) : route.continue();
    });
    await page
      .getByLabel(files.choose)
      .setInputFiles({ name: 'export.zip', mimeType: 'application/zip', buffer: Buffer.from(exported()) });
    await button(page, files.submit).click();
    await page.getByText(files.waiting, { exact: true }).waitFor();
    await page.getByText(files.progress('48', '48'), { exact: true }).waitFor();
    expect(sent).toBe(6);
    const riderId = await world.flow.id('rider', 'r1');
    const rides = await world.store.read((tx) => tx.rides.listOf({ riderIds: [riderId], bikeIds: [] }));
    expect(rides).toHaveLength(48);
    await world.flow.expectSound();
  },
);
