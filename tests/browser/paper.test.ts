import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { sheetLines } from '../../src/core/ledger/sheet.js';
import { markUnit } from '../../src/flow/facts/enterFacts.js';
import { planDocument } from '../web/planWorld.js';
import { DOCUMENT, NOW, webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT } from './browser.js';

/** Source: ISO 216, A4 is 210 × 297 mm; a point is 1/72 inch. */
const A4_UPRIGHT = [595.3, 841.9];

/** Invented: a unit of which much is known, with a crash mark, so that the sheet is as full as it gets. */
const full = (language: string) => ({
  ...planDocument(DOCUMENT),
  workshop: { ...DOCUMENT.workshop, language, secondLook: ['oil', 'torques', 'pressure'] },
  sheets: [
    {
      ...{ unitKind: 'fork', scope: { model: 'Sample fork T-150' }, edition: 'invented, 3rd of 2024' },
      ...{ typedBy: 'Tove', checkedBy: 'Otto' },
      values: Object.fromEntries(sheetLines({ unitKind: 'fork' }).map((name) => [name, 'as typed'])),
    },
  ],
  units: [
    ...planDocument(DOCUMENT).units,
    { tag: 'F-0008', unitKind: 'fork', spring: 'coil', model: 'Sample coil fork', history: 'new' },
    { tag: 'C-0009', unitKind: 'coil-shock', model: 'Sample coil shock', history: 'unknown' },
  ].map((unit) =>
    (unit as { tag: string }).tag === 'F-0001'
      ? {
          ...(unit as object),
          serial: 'INVENTED-000-0001',
          spec: {
            'Lower-leg oil': 'as typed, one line of it',
            'Damper oil': 'as typed',
            'Foot bolts': 'as typed',
            'Top cap': 'as typed',
          },
        }
      : unit,
  ),
  services: ['2026-02-01', '2026-03-01', '2026-04-01'].map((on) => ({
    unit: 'F-0001',
    serviceKind: 'lower-leg',
    on,
    findings: { foamRings: 'dark', oil: 'brown' },
    note: 'New washers',
  })),
});

async function sheetsOf(page: Page, url: string): Promise<number[][]> {
  await page.goto(url);
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  return [...pdf.matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, x, y]) => [
    Number(x),
    Number(y),
  ]);
}

function expectSize(sheet: readonly number[] | undefined, points: readonly number[]): void {
  for (const [i, wanted] of points.entries()) expect(Math.abs(sheet![i]! - wanted)).toBeLessThan(1);
}

describe.skipIf(!hasBrowser)(`what is printed${WHY_NOT}`, () => {
  test.each(['en', 'pt'])(
    'a bench card fits one sheet of A4 and a book takes A4, in %s',
    { timeout: 90_000 },
    async (language) => {
      const world = await webWorld({ document: full(language) });
      await world.store.write(async (tx) => {
        const unitId = (await tx.handles.find('unit', 'F-0001'))!;
        await markUnit(tx, unitId, true, 'Creaks at the crown after a fall', { by: 'owner', at: NOW });
      });
      const url = await served(world);
      const page = await (await openBrowser()).newPage();
      await signIn(page, url);
      const card = await sheetsOf(page, `${url}/units/F-0001/card?job=lower-leg`);
      expect(card).toHaveLength(1);
      expectSize(card[0], A4_UPRIGHT);
      await page.emulateMedia({ media: 'print' });
      const shown = await page.locator('header.top, .screen, footer').filter({ visible: true }).count();
      expect(shown).toBe(0);
      await page.emulateMedia({ media: null });
      for (const tag of ['F-0008', 'A-0001', 'C-0009']) {
        const other = await sheetsOf(page, `${url}/units/${tag}/card?job=full`);
        expect(other, tag).toHaveLength(1);
        expectSize(other[0], A4_UPRIGHT);
      }
      const book = await sheetsOf(page, `${url}/units/F-0001/book`);
      for (const sheet of book) expectSize(sheet, A4_UPRIGHT);
      expect(book.length).toBeLessThanOrEqual(3);
      expect(await sheetsOf(page, `${url}/units/F-0001/inspect`)).toHaveLength(1);
      await page.emulateMedia({ media: 'print' });
      expect(await page.locator('form.by-hand .tap').filter({ visible: true }).count()).toBeGreaterThan(10);
    },
  );

  test('ink is black on white, whatever the screen’s colours are', { timeout: 90_000 }, async () => {
    const url = await served(await webWorld());
    const page = await (await openBrowser()).newPage();
    await signIn(page, url);
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    for (const path of ['/units/F-0001/card', '/units/F-0001/book']) {
      await page.goto(url + path);
      const colours = await page.evaluate(`[...new Set([...document.querySelectorAll('main *')]
        .filter((one) => one.offsetParent !== null && one.textContent.trim() !== '')
        .map((one) => getComputedStyle(one).color))]`);
      expect(colours, path).toEqual(['rgb(0, 0, 0)']);
    }
  });

  test('on A4 tables stay tables, and nothing is left that could be pressed or filled in', {
    timeout: 90_000,
  }, async () => {
    const url = await served(await webWorld({ document: full('en') }));
    const page = await (await openBrowser()).newPage();
    await signIn(page, url);
    // A4 at 96 to the inch, without its margins.
    await page.setViewportSize({ width: 688, height: 900 });
    await page.emulateMedia({ media: 'print' });
    let tables = 0;
    for (const path of [
      '/',
      '/due',
      '/units',
      '/units/F-0001',
      '/riders',
      '/intervals',
      '/load',
      '/fleets',
      '/bikes/b1',
    ]) {
      await page.goto(url + path);
      const displays = (await page.evaluate(`[...document.querySelectorAll('main table')]
        .filter((one) => one.offsetParent !== null)
        .map((one) => getComputedStyle(one).display)`)) as string[];
      expect(new Set([...displays, 'table']), path).toEqual(new Set(['table']));
      expect(await page.locator('button, input, select').filter({ visible: true }).count(), path).toBe(0);
      tables += displays.length;
    }
    expect(tables).toBeGreaterThan(8);
  });

  test('a line is corrected without a script, and every page is accessible', {
    timeout: 90_000,
  }, async () => {
    const url = await served(await webWorld({ document: full('en') }));
    const page = await (await openBrowser({ javaScriptEnabled: false })).newPage();
    await signIn(page, url);
    await page.goto(`${url}/units/F-0001`);
    await page.getByRole('link', { name: 'correct: lower-leg service, 1 April' }).click();
    await page.locator('#day-on').fill('2026-04-02');
    await page.locator('form:has(#day-on)').getByLabel('Why it was wrong').fill('From the bill');
    await page.getByRole('button', { name: 'Save the day' }).click();
    expect(await page.getByRole('status').textContent()).toContain('The day is corrected');
    await page.getByRole('link', { name: 'Service book for printing' }).click();
    expect(await page.getByRole('row', { name: /From the bill/ }).textContent()).toMatch(
      /2 April 2026.*was: 1 April 2026/s,
    );
  });

  test('cards, books, corrections and settings are accessible and fit, wide and narrow', {
    timeout: 120_000,
  }, async () => {
    const world = await webWorld({ document: full('en') });
    const service = (await world.store.read((tx) => tx.facts.list('service')))[0]!;
    const url = await served(world);
    const page = await (await openBrowser()).newPage();
    await signIn(page, url);
    for (const path of [
      '/units/F-0001/card?job=full',
      '/units/F-0001/book',
      `/units/F-0001/lines/${service.id}`,
      '/settings',
      '/settings/weights?smooth=0.5&typical=1.5&rough=2',
      '/settings/weights?smooth=x&typical=1&rough=2',
    ]) {
      await page.emulateMedia({ colorScheme: 'light' });
      await page.setViewportSize({ width: 1280, height: 900 });
      await page.goto(url + path);
      await expectAccessible(page);
      await page.emulateMedia({ colorScheme: 'dark' });
      for (const width of [390, 320]) {
        await page.setViewportSize({ width, height: 844 });
        await expectAccessible(page, 'looks');
        expect(await page.evaluate('document.documentElement.scrollWidth'), path).toBeLessThanOrEqual(width);
      }
    }
  });
});
