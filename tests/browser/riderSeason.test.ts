/**
 * A rider's season on a phone, 390 px wide, in each language: taps are counted, every page is measured, and nothing goes
 * wrong unseen. A tap is what a finger does beside typing; a choice from a list is two.
 */
import { randomBytes } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { expect, it, onTestFinished } from 'vitest';
import { bookLead } from '../../src/flow/plan/leads.js';
import { riderTextsFor } from '../../src/languages/index.js';
import { startWeb } from '../../src/web/serve.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
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

/** What a finger has to meet and is smaller than 44 px; words within a sentence are left out. Source: WCAG 2.2, 2.5.5. */
const SMALL_TARGETS = `[...document.querySelectorAll('main button, main a.button, nav a, main .acts a, main summary, main select, main label.tap, main label.tick, main input:not([type=hidden],[type=radio],[type=checkbox])')]
  .filter((one) => one.checkVisibility() && !one.closest('.hidden'))
  .map((one) => [one.textContent.trim().slice(0, 40) || one.name, one.getBoundingClientRect()])
  .filter(([, { height, width }]) => height < 43.5 || width < 24)
  .map(([name, { height }]) => name + ' ' + Math.round(height))`;

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
    expect(await page.evaluate(SMALL_TARGETS), step).toEqual([]);
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
    const texts = riderTextsFor(language);
    const { own } = texts;
    const services = async () => {
      const unitId = await world.flow.id('unit', 'F-1');
      return (await world.store.read((tx) => tx.facts.list('service', { subject: unitId }))).length;
    };
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

    // Booked by the workshop, the day is moved by two taps, then cancelled; both change what is stored.
    const { ids } = world.deps;
    const desk = { by: 'owner', at: world.deps.clock.now() };
    const { id, day: askedDay } = (await world.lead('F-1'))!;
    await world.store.write((tx) => bookLead(tx, id, askedDay!, desk, ids));
    await page.goto(home);
    await finger.tap(page.getByRole('link', { name: own.bikes.changeDay }));
    await finger.look('9a-booked');
    await finger.tap(page.locator('button[name=day]').first());
    await page.getByRole('status').waitFor();
    expect(finger.taken()).toBeLessThanOrEqual(2);
    const moved = (await world.lead('F-1'))!;
    expect([moved.state, moved.day === askedDay]).toEqual(['booked', false]);
    await page.goto(home);
    await page.getByRole('link', { name: own.bikes.changeDay }).click();
    await button(page, texts.ask.letGo.booked.submit).click();
    await page.getByRole('status').waitFor();
    await finger.look('9b-cancelled');
    expect(await world.lead('F-1')).toMatchObject({ state: 'open', day: null });

    // Done at home, said twice by mistake, and taken back: the service book has it once, then not.
    const doneOn = '2026-05-20';
    for (const time of ['first', 'again']) {
      await page.goto(`${home}/units/F-1/lower-leg/done`);
      await page.locator('input[name=on]').fill(doneOn);
      await page.locator('select[name=by]').selectOption('at-home');
      await page.locator('select[name=homeKind]').selectOption('lower-leg');
      await button(page, texts.done.submit).click();
      await page.getByRole(time === 'first' ? 'status' : 'alert').waitFor();
      await finger.look(`9c-done-${time}`);
    }
    expect(await services()).toBe(1);
    const facts = await world.facts();
    await page.reload();
    expect(await world.facts()).toBe(facts);
    await page.goto(`${home}/said`);
    await page.getByRole('button', { name: own.said.takeBack }).first().click();
    await page.getByRole('status').waitFor();
    expect(await services()).toBe(0);

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
    await page.goto(`${home}/data`);
    await finger.look('17-data');
    // Back and reload send nothing again.
    const before = await world.facts();
    await page.goBack();
    await page.reload();
    expect(await world.facts()).toBe(before);

    await world.flow.expectSound();
    // A form that could not be taken is answered by its page, which says so.
    expect(complaints.filter((one) => !/422/.test(one))).toEqual([]);
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

/** Invented: tracks of an hour with much that no reader needs, so that an export of some rides is as large as those of years. */
function largeExport(): string {
  const folder = mkdtempSync(join(tmpdir(), 'stanchion-export-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  const rides = Array.from({ length: 26 }, (_, i) => {
    const track = straightTrack(Date.parse('2026-03-03T08:00:00Z') + i * 2 * 86_400_000, 1800);
    // What cannot be packed smaller, as positions of years cannot.
    const more = () => `<extensions><note>${randomBytes(1600).toString('base64')}</note></extensions>`;
    const segments = [track.map((point) => ({ ...point, more: more() }))];
    return { name: `rides/${i}.gpx`, bytes: textBytes(gpxText([{ type: 'cycling', segments }])) };
  });
  const path = join(folder, 'export.zip');
  // The bytes of base64 pack to three quarters; photos make up the rest, and stay on the phone.
  writeFileSync(path, zipFile([...rides, { name: 'photos/1.jpg', bytes: randomBytes(25_000_000) }]));
  return path;
}

it.runIf(hasBrowser)(
  `an export of 100 MB is sent in portions, and survives a signal that is lost on both ways${WHY_NOT}`,
  { timeout: 240_000 },
  async () => {
    const { world, page, home } = await opened('en');
    const { files } = riderTextsFor('en').own;
    const path = largeExport();
    expect(statSync(path).size).toBeGreaterThan(100_000_000);
    await page.goto(`${home}/files`);
    const sizes: number[] = [];
    await page.route('**/files', (route) => {
      if (route.request().method() !== 'POST') return route.continue();
      sizes.push(1);
      if (sizes.length === 3) return route.abort();
      return sizes.length === 6 ? route.fetch().then(() => route.abort()) : route.continue();
    });
    await page.getByLabel(files.choose).setInputFiles(path);
    await button(page, files.submit).click();
    await page.getByText(files.waiting, { exact: true }).waitFor();
    await page.getByText(files.progress('26', '26'), { exact: true }).waitFor({ timeout: 200_000 });
    const riderId = await world.flow.id('rider', 'r1');
    const rides = await world.store.read((tx) => tx.rides.listOf({ riderIds: [riderId], bikeIds: [] }));
    expect(rides).toHaveLength(26);
    // Portions of some megabytes each: little is sent again.
    expect(sizes.length).toBeGreaterThan(13);
    await world.flow.expectSound();
  },
);
