/** A rider's whole way in a real browser, without a script and with one, and how each page of it looks. */
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, it, onTestFinished } from 'vitest';
import { bookLead } from '../../src/flow/plan/leads.js';
import { day } from '../../src/units.js';
import { startWeb } from '../../src/web/serve.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { zipFile } from '../fixtures/zipFile.js';
import { rideFile, WORKSHOP } from '../flow/flowWorld.js';
import { linkOf, RiderWorld } from '../flow/riderWorld.js';
import { cheapHash, NAME, PASSWORD } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, leftBehind, openBrowser, signIn, WHY_NOT } from './browser.js';

/** A folder for pictures of the pages, to look at. */
const { STANCHION_PICTURES: PICTURES } = process.env;

/** Invented: a fork that came with 47 of its 50 hours, and nothing ridden yet. */
const DOCUMENT = {
  workshop: { ...WORKSHOP, phone: '+000 555 0100' },
  riders: [{ id: 'r1', name: 'Pia Lanternby', email: 'r1@example.org', addressConfirmed: true }],
  bikes: [
    { id: 'b1', rider: 'r1', name: 'Moss Hopper', type: 'trail' },
    { id: 'b2', rider: 'r1', name: 'Brine', type: 'gravel' },
  ],
  units: [
    {
      tag: 'F-1',
      unitKind: 'fork',
      model: 'Sample fork T-150',
      history: { terrainHours: 47, movingHours: 47, asOf: '2026-04-01' },
    },
  ],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2026-01-01' }],
};

async function opened(document: object = DOCUMENT) {
  const world = await RiderWorld.open({ document, publicUrl: 'http://bench.example.org', isOneClick: false });
  const account = { name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' } as const;
  await world.store.write((tx) => tx.accounts.add(account));
  const pages = await startWeb(world.app, { host: '127.0.0.1', port: 0 });
  onTestFinished(() => pages.close());
  return { world, url: pages.url };
}

/** What goes wrong without anybody seeing it. */
function watched(page: Page, url: string): string[] {
  const wrong: string[] = [];
  page.on('request', (request) => {
    if (!request.url().startsWith(url)) wrong.push(`asked ${request.url()}`);
  });
  page.on('response', (response) => {
    if (response.status() >= 400) wrong.push(`${response.status()} ${response.url()}`);
  });
  page.on('requestfailed', (request) => {
    if (!leftBehind(request)) wrong.push(`failed ${request.url()}`);
  });
  page.on('console', (message) => wrong.push(message.text()));
  page.on('pageerror', (error) => wrong.push(String(error)));
  return wrong;
}

const untimed = (): Uint8Array => {
  const segment = straightTrack(0, 900).map(({ time: _, ...point }) => point);
  return textBytes(gpxText([{ type: 'cycling', segments: [segment] }]));
};
const buffers = (files: Readonly<Record<string, Uint8Array>>) =>
  Object.entries(files).map(([name, bytes]) => ({
    name,
    mimeType: 'application/octet-stream',
    buffer: Buffer.from(bytes),
  }));

const said = (page: Page) => page.getByRole('status').first().textContent();

it.runIf(hasBrowser).each([
  ['without a script', false],
  ['with a script', true],
])(`a rider goes the whole way, %s${WHY_NOT}`, { timeout: 120_000 }, async (_, javaScriptEnabled) => {
  const { world, url } = await opened();
  const browser = await openBrowser({ javaScriptEnabled });
  const page = await browser.newPage();
  const wrong = watched(page, url);
  await page.setViewportSize({ width: 390, height: 844 });

  await signIn(page, url);
  await page.getByRole('navigation').getByRole('link', { name: 'Riders' }).click();
  await page.getByRole('link', { name: 'Pia Lanternby' }).click();
  await page.locator('summary', { hasText: /own page/i }).click();
  await page.getByRole('button', { name: 'Mail a link' }).click();
  expect(await said(page)).toContain('A mail with the link goes out');
  const mail = (await world.beat()).find((one) => one.subject.endsWith('your bikes and hours'))!;
  expect(mail.to.address).toBe('r1@example.org');
  await browser.clearCookies();

  const home = url + new URL(linkOf(mail, 'page')).pathname;
  await page.goto(home);
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Your bikes');
  await page.getByRole('link', { name: 'Send files' }).click();
  await page.getByLabel('Ride files').setInputFiles(
    buffers({
      'long ride.fit': rideFile('2026-06-08T08:00:00Z', 300),
      'no-times.gpx': untimed(),
      'holiday.jpg': textBytes('no ride at all'),
    }),
  );
  await page.getByRole('button', { name: 'Send', exact: true }).click();
  const answers = page.getByRole('row');
  await answers
    .filter({ hasText: 'It could not be used. It is no ride file: neither FIT nor GPX nor TCX.' })
    .waitFor();
  expect(await answers.filter({ hasText: 'long ride.fit' }).textContent()).toContain(
    'It counts. 8 June, 5\u00a0h, on Moss Hopper.',
  );
  await page.getByRole('link', { name: 'Answer now' }).click();
  await page.getByLabel('Day', { exact: true }).fill('2026-06-07');
  await page.getByLabel('Time', { exact: true }).fill('09:30');
  await page.getByLabel('Minutes ridden').fill('60');
  await page.getByRole('button', { name: 'Save the answer' }).click();
  expect(await said(page)).toContain('It counts now.');

  await page.getByRole('link', { name: 'Bikes' }).click();
  expect(await page.getByRole('main').textContent()).toContain('lower-leg service, due');
  await page.getByRole('link', { name: /^Ask for a day/ }).click();
  await page.getByRole('button', { name: 'Thursday 11 June' }).click();
  expect(await said(page)).toContain('You asked for Thursday 11 June');
  const lead = (await world.lead('F-1'))!;
  const booking = { by: NAME, at: world.flow.entry.at };
  await world.store.write((tx) => bookLead(tx, lead.id, day('2026-06-11'), booking, world.deps.ids));
  expect(await world.mail()).toContain('r1@example.org: Booked: Moss Hopper, Thursday 11 June');
  await page.getByRole('link', { name: 'Back to your bikes' }).click();
  expect(await page.getByRole('main').textContent()).toContain('Thursday 11 June, booked');

  await page.getByRole('link', { name: /^Hours and services/ }).click();
  await page
    .getByRole('link', { name: /^Already done/ })
    .first()
    .click();
  await page.getByLabel('Day').fill('2026-06-09');
  await page.getByRole('button', { name: 'Enter this service' }).click();
  expect(await said(page)).toContain('We entered the lower-leg service of 9 June.');

  await page.getByRole('link', { name: 'Mails and data' }).click();
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Download my data' }).click();
  const held = JSON.parse(readFileSync(await (await coming).path(), 'utf8')) as { rides: object[] };
  expect(held.rides).toHaveLength(2);
  await page.getByRole('link', { name: 'Forget me' }).click();
  await page.getByLabel('Yes, forget me for good').check();
  await page.getByRole('button', { name: 'Forget me' }).click();
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('You are forgotten');
  expect(await world.store.read((tx) => tx.contacts.list())).toEqual([]);
  await world.flow.expectSound();
  expect(wrong).toEqual([]);
});

it.runIf(hasBrowser)(
  `each sending shows its own answers on the screen, a row a file, with how many are sent${WHY_NOT}`,
  { timeout: 60_000 },
  async () => {
    const { world, url } = await opened();
    const home = url + new URL(linkOf(await world.reminderTo('r1@example.org'), 'page')).pathname;
    const page = await (await openBrowser()).newPage();
    await page.setViewportSize({ width: 390, height: 844 });
    await page.goto(`${home}/files`);
    const send = async (files: Readonly<Record<string, Uint8Array>>, sent: string): Promise<string[]> => {
      await page.getByLabel('Ride files').setInputFiles(buffers(files));
      await page.getByRole('button', { name: 'Send', exact: true }).click();
      await page.getByText(sent, { exact: true }).waitFor();
      await page.locator('#send button:enabled').waitFor();
      return page.getByRole('rowheader').allTextContents();
    };
    const photos = Object.fromEntries(
      Array.from({ length: 9 }, (_, i) => [`${i}.jpg`, textBytes(`no ride at all ${i}`)]),
    );
    expect(await send(photos, '9 of 9 sent')).toHaveLength(9);
    const zip = zipFile([
      { name: 'a.jpg', bytes: textBytes('no ride at all') },
      { name: 'a.fit', bytes: rideFile('2026-06-08T08:00:00Z', 60) },
    ]);
    expect(await send({ 'export.zip': zip }, '1 of 1 sent')).toEqual(['export.zip', 'export.zip/a.fit']);
    const answers = page.getByRole('heading', { name: 'What became of them' });
    expect(await answers.evaluate((one) => one.getBoundingClientRect().bottom < 844)).toBe(true);
    const cell = page.getByRole('cell').first();
    expect((await cell.boundingBox())!.width).toBeGreaterThan(300);
  },
);

/** Invented: a season of rides with two services, so that there is something to draw. */
const SEASON = {
  ...DOCUMENT,
  units: [{ ...DOCUMENT.units[0]!, history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-03-01' }],
  services: [
    { unit: 'F-1', serviceKind: 'lower-leg', on: '2025-07-05' },
    { unit: 'F-1', serviceKind: 'full', on: '2025-11-08' },
    { unit: 'F-1', serviceKind: 'lower-leg', on: '2026-03-20' },
  ],
  hours: Array.from({ length: 65 }, (_, week) => ({
    bike: 'b1',
    on: new Date(Date.parse('2025-03-08') + week * 7 * 86_400_000).toISOString().slice(0, 10),
    minutes: [90, 150, 30, 200][week % 4],
    ground: week % 3 === 0 ? 'rough' : 'typical',
  })),
};

const BELOW = ['', '/rides', '/files', '/mails', '/forget', '/units/F-1', '/units/F-1/lower-leg/ask'];

it.runIf(hasBrowser)(
  `each of a rider's pages is accessible and fits, light and dark, narrow and wide${WHY_NOT}`,
  { timeout: 180_000 },
  async () => {
    const { world, url } = await opened(SEASON);
    await world.flow.take(untimed(), { name: 'no-times.gpx' });
    await world.flow.take(rideFile('2026-06-06T08:00:00Z', 90), { bike: 'b1' });
    await world.beat();
    const page = await (await openBrowser()).newPage();
    await signIn(page, url);
    await page.getByRole('navigation').first().waitFor();
    await page.goto(`${url}/riders/r1`);
    await page.locator('summary', { hasText: /own page/i }).click();
    await page.getByRole('button', { name: 'Create a link' }).click();
    await expectAccessible(page);
    await picture(page, 'workshop-rider');
    const made = await page.getByRole('link', { name: /^http:/ }).getAttribute('href');
    const home = url + new URL(made!).pathname;
    await page.goto(`${url}/units/F-1`);
    await looks(page, 'workshop-unit');
    for (const below of BELOW) {
      await page.goto(home + below);
      await looks(page, `own${below.replaceAll('/', '-')}`);
      await expectReachedByKeys(page);
    }
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    await page.setViewportSize({ width: 760, height: 1000 });
    for (const path of [`${home}/units/F-1`, `${url}/units/F-1`]) {
      await page.goto(path);
      const ink = await page.evaluate(`[...new Set([...document.querySelectorAll('figure.plot svg.wide path')]
        .flatMap((one) => [getComputedStyle(one).stroke, getComputedStyle(one).fill]))]`);
      // Black ink, and the hairlines of the scale.
      for (const colour of ink as string[])
        expect(colour).toMatch(/^(none|rgb\(0, 0, 0\)|rgb\(153, 153, 153\))$/);
      await picture(page, `print-${path.includes('/r/') ? 'own' : 'workshop'}-unit`);
    }
  },
);

async function looks(page: Page, name: string): Promise<void> {
  await page.emulateMedia({ colorScheme: 'light' });
  await page.setViewportSize({ width: 1280, height: 900 });
  await expectAccessible(page);
  await picture(page, `${name}-1280`);
  await page.emulateMedia({ colorScheme: 'dark' });
  for (const width of [390, 320]) {
    await page.setViewportSize({ width, height: 844 });
    expect(await page.evaluate('document.documentElement.scrollWidth'), name).toBeLessThanOrEqual(width);
    if (width === 390) {
      await expectAccessible(page, 'looks');
      await picture(page, `${name}-390-dark`);
    }
  }
}

/** Source: WCAG 2.2, 2.1.1 keyboard and 2.4.7 focus visible. */
async function expectReachedByKeys(page: Page): Promise<void> {
  const all = await page.evaluate(`[...document.querySelectorAll('a[href],button,input,select,summary')]
    .filter((one) => one.type !== 'hidden' && one.checkVisibility()).length`);
  /** Whether each was seen with its outline; a field for a day has several stops, each marked inside. */
  const reached = new Map<string, boolean>();
  await page.evaluate('document.activeElement.blur(); window.scrollTo(0, 0)');
  for (let i = 0; i < Number(all) * 4 && reached.size < Number(all); i++) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(`(() => {
      const one = document.activeElement;
      const place = [...document.querySelectorAll('*')].indexOf(one);
      return one === document.body ? '' : place + ' ' + getComputedStyle(one).outlineStyle;
    })()`);
    const [place = '', outline] = String(at).split(' ');
    if (place !== '') reached.set(place, reached.get(place) === true || outline === 'solid');
  }
  expect(reached.size, page.url()).toBe(all);
  expect([...reached.values()], page.url()).not.toContain(false);
}

async function picture(page: Page, name: string): Promise<void> {
  if (PICTURES === undefined) return;
  mkdirSync(PICTURES, { recursive: true });
  await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
}
