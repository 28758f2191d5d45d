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
    const { world, page, complaints, home } = await opened(language);
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

    // A day: one that is offered first, then another one in its place.
    await finger.tap(page.getByRole('link', { name: own.nav.bikes }));
    await finger.look('6-bikes');
    finger.taken();
    await finger.tap(page.getByRole('link', { name: own.bikes.ask }).first());
    await finger.look('7-ask');
    await finger.tap(page.locator('button[name=day]').first());
    expect(finger.taken()).toBeLessThanOrEqual(2);
    await finger.look('8-asked');
    const asked = (await world.lead('F-1'))!;
    expect(asked.state).toBe('asked-for');
    await page.goto(home);
    await finger.tap(page.getByRole('link', { name: own.bikes.changeDay }));
    await finger.tap(page.locator('details > summary').first());
    await finger.look('9-days');
    await finger.tap(page.locator('details button[name=day]').last());
    expect(finger.taken()).toBeLessThanOrEqual(3);
    expect((await world.lead('F-1'))!.day! > asked.day!).toBe(true);

    // A new bike, hours that nobody recorded, a wet day.
    await page.goto(home);
    await finger.tap(page.getByRole('link', { name: own.bikes.newBike }));
    await page.getByLabel(own.newBike.name).fill('Blue');
    await finger.tap(page.locator('input[name=type][value=trail]'));
    await finger.tap(page.locator('input[name=shock][value=air]'));
    await finger.tap(page.locator('input[name=history][value=new]'));
    await finger.look('10-new-bike');
    await finger.tap(button(page, own.newBike.submit));
    await page.getByRole('status').waitFor();
    expect(finger.taken()).toBeLessThanOrEqual(6);
    await page.goto(home);
    await finger.look('11-three-bikes');
    await page.getByRole('link', { name: own.bikes.change('Green') }).click();
    await finger.look('12-bike');
    await page.getByLabel(own.bike.minutes).fill('90');
    await button(page, own.bike.addHours).click();
    await page.getByRole('status').waitFor();
    await page.goto(`${home}/bikes/b1`);
    await page.locator('input[name=wetOn]').fill('2026-05-30');
    await button(page, own.bike.wet).click();
    await page.getByRole('status').waitFor();
    const wet = await world.store.read((tx) => tx.rides.listLatestOfRider(riderId, 99));
    expect(wet.filter((ride) => ride.wet).map(({ day }) => day)).toEqual(['2026-05-30']);

    // Sold with its fork, and taken back.
    await page.goto(`${home}/bikes/b2`);
    await page.locator('details > summary').click();
    await page.getByLabel(own.bike.sure).check();
    await button(page, own.bike.sold).click();
    await page.getByRole('status').waitFor();
    await page.goto(home);
    expect(await page.getByRole('heading', { name: 'Red' }).count()).toBe(0);
    await page.goto(`${home}/said`);
    await finger.look('13-said');
    await page
      .getByRole('button', { name: own.said.gonePart('F-2', '').slice(0, 3) })
      .first()
      .click();
    await page.getByRole('status').waitFor();
    await page.goto(`${home}/help`);
    await finger.look('14-help');
    await page.goto(`${home}/units/F-1`);
    await finger.look('15-unit');
    await page.goto(`${home}/mails`);
    await finger.look('16-mails');
    // Back and reload send nothing again.
    const before = await world.facts();
    await page.goBack();
    await page.reload();
    expect(await world.facts()).toBe(before);

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
