/** A race day on a phone: a fleet of 12 bikes and 30 units, five swaps, one undone, a crash, the evening. */
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { addAccount } from '../../src/flow/accounts.js';
import { cheapHash, DOCUMENT, PASSWORD, webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';

const [WIDTH, HEIGHT] = [390, 844];
const PICTURES = process.env.STANCHION_PICTURES;
const two = (n: number): string => String(n).padStart(2, '0');
const BIKES = Array.from({ length: 12 }, (_, i) => i + 1);
const SPARES = [13, 14, 15, 16, 17];

/** Invented. */
function raceDocument(language: 'en' | 'pt' = 'en') {
  const unit = (tag: string, unitKind: string) => ({ tag, unitKind, model: 'Sample', history: 'new' });
  const bikes = BIKES.map((i) => ({
    id: `t${i}`,
    rider: null,
    fleet: 't1',
    name: `Bike ${i}`,
    type: 'gravity',
  }));
  const forks = [...BIKES, ...SPARES].map((i) => unit(`F-${two(i)}`, 'fork'));
  const shocks = [...BIKES, 13].map((i) => unit(`S-${two(i)}`, 'coil-shock'));
  return {
    ...DOCUMENT,
    workshop: { ...DOCUMENT.workshop, language },
    fleets: [{ id: 't1', name: 'Team Bramblewick' }],
    bikes: [
      ...DOCUMENT.bikes,
      ...bikes,
      // It came without anything on it.
      { id: 't13', rider: null, fleet: 't1', name: 'Bike 13', type: 'gravity' },
    ],
    units: [
      ...DOCUMENT.units,
      ...forks,
      ...shocks.map((one, i) => (i < 12 ? one : { ...one, fleet: 't1' })),
    ].map((one) => (SPARES.some((i) => one.tag === `F-${two(i)}`) ? { ...one, fleet: 't1' } : one)),
    fittings: [
      ...DOCUMENT.fittings,
      ...BIKES.flatMap((i) =>
        [`F-${two(i)}`, `S-${two(i)}`].map((tag) => ({
          unit: tag,
          bike: `t${i}`,
          from: '2026-01-01',
          to: null,
        })),
      ),
    ],
    intervals: [
      { unitKind: 'fork', serviceKind: 'lower-leg', scope: { fleet: 't1' }, terrainHours: 20, months: null },
    ],
    hours: BIKES.map((i) => ({ bike: `t${i}`, on: '2026-05-20', minutes: 60 * i, ground: 'rough' })),
    races: [
      {
        id: 'x1',
        name: 'Oakhollow',
        on: '2026-06-14',
        bikes: BIKES.map((i) => `t${i}`),
        practiceHours: 3,
        raceHours: 1,
      },
    ],
  };
}

/** Counts what a thumb does. */
class Thumb {
  taps = 0;
  constructor(readonly page: Page) {}
  async link(name: string | RegExp): Promise<void> {
    this.taps += 1;
    await this.page.getByRole('link', { name }).first().click();
  }
  async button(name: string | RegExp): Promise<void> {
    this.taps += 1;
    await this.page.getByRole('button', { name }).first().click();
  }
}

const picture = async (page: Page, name: string): Promise<void> => {
  if (PICTURES) await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
};

test.runIf(hasBrowser)(`a race day at ${WIDTH} px${WHY_NOT}`, { timeout: 180_000 }, async () => {
  const world = await webWorld({ document: raceDocument() });
  await world.store.write((tx) =>
    addAccount(tx, { name: 'pit', passwordHash: cheapHash(PASSWORD), role: 'mechanic', fleet: 't1' }),
  );
  const url = await served(world);
  const page = await (await openBrowser()).newPage();
  const { complaints } = watch(page);
  await page.setViewportSize({ width: WIDTH, height: HEIGHT });

  // Arrive: thirty units on three screens, what is tightest on top.
  await signIn(page, url, 'pit');
  const tags = async (): Promise<string[]> => page.locator('tbody th a').allTextContents();
  expect((await tags()).slice(0, 3)).toEqual(['F-12', 'F-11', 'F-10']);
  expect(await tags()).toHaveLength(30);
  const bottom = async (): Promise<number> =>
    (await page.locator('table.dense').boundingBox())!.y +
    (await page.locator('table.dense').boundingBox())!.height;
  expect(await bottom()).toBeLessThanOrEqual(3 * HEIGHT);
  expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
  await expectAccessible(page, 'looks');
  await picture(page, 'race-fleet');
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  expect([...pdf.matchAll(/\/Type\s*\/Page\b/g)].length).toBeLessThanOrEqual(2);

  // Five swaps: at most four taps each, the first from the fleet's page.
  const taps: number[] = [];
  for (const [off, on] of [
    ['F-12', 'F-13'],
    ['F-11', 'F-14'],
    ['F-10', 'F-15'],
    ['F-09', 'F-01'],
    ['S-12', 'S-13'],
  ] as const) {
    await page.goto(`${url}/fleets/t1`);
    const thumb = new Thumb(page);
    await thumb.link('Swap');
    if (off === 'F-12') await picture(page, 'race-swap-off');
    await thumb.link(new RegExp(off));
    if (off === 'F-12') await picture(page, 'race-swap-on');
    await thumb.button(new RegExp(on));
    taps.push(thumb.taps);
    expect(await page.getByRole('status').textContent()).toContain(`${off} and ${on} are swapped.`);
  }
  expect(Math.max(...taps)).toBeLessThanOrEqual(4);

  // The last was wrong: undone by one press.
  const undo = new Thumb(page);
  await undo.button('Take this swap back');
  expect(undo.taps).toBe(1);
  expect(await page.getByRole('status').textContent()).toContain('S-12 and S-13 is taken back');
  await picture(page, 'race-undone');

  // A bike without a fork gets one as fast, and loses it as fast; bikes stand in natural order.
  const names = await page.locator('ul.pick a.button b').allTextContents();
  expect(names.slice(0, 4)).toEqual(['Bike 13', 'Bike 13', 'Bike 1', 'Bike 1']);
  expect(names.indexOf('Bike 2')).toBeLessThan(names.indexOf('Bike 10'));
  await page.goto(`${url}/fleets/t1`);
  const bare = new Thumb(page);
  await bare.link('Swap');
  await bare.link(/Bike 13.*no fork/);
  await bare.button(/F-16/);
  expect(bare.taps).toBeLessThanOrEqual(4);
  expect(await page.getByRole('status').textContent()).toContain('F-16 is on Bike 13.');
  await bare.button('Take this swap back');
  expect(await page.getByRole('status').textContent()).toContain('F-16 is off Bike 13 again');

  // A crash: nobody rides on it, and a marked one goes on only by a plain word.
  await page.goto(`${url}/fleets/t1`);
  const crash = new Thumb(page);
  await crash.link('F-08');
  await crash.page.getByText('Crash', { exact: false }).first().click();
  await page.locator('input[name="why"]').fill('bent crown');
  await page.locator('form[action$="/mark"] button').click();
  await page.getByRole('status').first().waitFor();
  await page.goto(`${url}/fleets/t1/swap?off=F-07`);
  await page.getByRole('button', { name: /F-08/ }).click();
  expect(await page.getByRole('alert').textContent()).toContain('F-08 is marked “stop riding” (bent crown)');
  expect(await page.getByText('It is marked “stop riding” and goes on anyway').isVisible()).toBe(true);

  // Evening: the marked one on top, the rides of the day at what was on, and the race to come.
  await page.goto(`${url}/fleets/t1`);
  expect((await tags())[0]).toBe('F-08');
  await picture(page, 'race-evening');
  await page.getByRole('link', { name: /not in time/ }).click();
  expect(await tags()).toContain('F-08');
  await page.getByRole('link', { name: 'Races', exact: true }).click();
  await page.getByRole('link', { name: 'Oakhollow' }).click();
  expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
  await picture(page, 'race-plan');
  // What was refused is answered so; nothing else was out of order.
  expect(complaints.filter((one) => !one.includes('409'))).toEqual([]);
  expect(complaints.length).toBeGreaterThan(0);
});

test.runIf(hasBrowser).each([
  ['en', 1280],
  ['pt', 390],
  ['pt', 1280],
] as const)(`race pages in %s at %i px${WHY_NOT}`, { timeout: 120_000 }, async (language, width) => {
  const world = await webWorld({ document: raceDocument(language) });
  const url = await served(world);
  const page = await (await openBrowser()).newPage();
  const { complaints } = watch(page);
  await page.setViewportSize({ width, height: HEIGHT });
  await signIn(page, url);
  await page.goto(`${url}/fleets/t1/swap?off=F-12`);
  await page.locator('button[name="on"][value="F-13"]').click();
  await page.getByRole('status').first().waitFor();
  for (const [name, path] of [
    ['fleet', '/fleets/t1'],
    ['swap', '/fleets/t1/swap'],
    ['swap-on', '/fleets/t1/swap?off=F-11'],
    ['race', '/races/x1'],
    ['unit', '/units/F-12'],
  ] as const) {
    await page.goto(`${url}${path}`);
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
    expect(await page.locator('html').getAttribute('lang')).toBe(language);
    await picture(page, `race-${language}-${width}-${name}`);
  }
  await page.goto(`${url}/units/F-12`);
  await page.locator('dl.book a[href*="/lines/"]').first().click();
  await page.locator('input[name="fromTime"]').waitFor();
  await picture(page, `race-${language}-${width}-timeline`);
  expect(complaints).toEqual([]);
});
