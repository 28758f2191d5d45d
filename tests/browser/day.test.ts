/** How many taps the day takes: bookings, what Today asks, what is due, and lists as files. */
import { expect, test } from 'vitest';
import { booked } from '../fixtures/booked.js';
import { DOCUMENT, NOW, TODAY, webWorld } from '../web/webWorld.js';
import { hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';
import { Finger, told } from './hands.js';

const riders = [{ id: 'r1', name: 'Pia Lanternby', email: null, phone: '+000 555 0101' }, DOCUMENT.riders[1]];

test.runIf(hasBrowser).each([820, 1280])(
  `bookings, Today, Due and lists at %i px${WHY_NOT}`,
  { timeout: 180_000 },
  async (width) => {
    const world = await webWorld({ document: { ...DOCUMENT, riders } });
    const page = await (await openBrowser({ viewport: { width, height: 900 } })).newPage();
    const watched = watch(page);
    const url = await served(world);
    await signIn(page, url);
    await page.waitForLoadState('networkidle');
    const said = (): Promise<string | null> => page.getByRole('status').textContent();
    const stateOf = (id: string) =>
      world.store.read(async (tx) => (await tx.leads.listOf(id)).map(({ state, day }) => [state, day]));

    const book = new Finger(page);
    await page.goto(`${url}/units/F-0001`);
    await book.link('Book a day');
    await book.tap(page.locator('label.tap').nth(2));
    await book.button('Book this day');
    expect(await said()).toContain('call them');
    const [lead] = await world.store.read((tx) => tx.leads.list(['booked']));
    expect(lead).toMatchObject({ serviceKind: 'lower-leg' });
    expect(told('Any unit booked for a day', width)).toBe(book.counted());

    const move = new Finger(page);
    await page.goto(url);
    await move.link('Bookings');
    await move.tap(page.locator(`[id="${lead!.id}"] summary`).first());
    await move.type(page.locator(`[id="day-${lead!.id}"]`), '2026-06-16');
    await move.button('Move to this day');
    await page.waitForURL(/done=/);
    expect(await stateOf(lead!.id)).toEqual([['booked', '2026-06-16']]);
    expect(told('A booked day moved', width)).toBe(move.counted());

    // On paper a table stays one, also where the screen has cards.
    await page.goto(`${url}/bench`);
    await page.emulateMedia({ media: 'print' });
    const shown = "getComputedStyle(document.querySelector('.sheet table')).display";
    expect(await page.evaluate(shown)).toBe('table');
    await page.emulateMedia({ media: 'screen' });

    // A day that is asked for stands open, with its buttons.
    await booked(world.store, 'F-0002', '2026-06-17', { at: NOW, as: 'asked-for' });
    const [asked] = await world.store.read((tx) => tx.leads.list(['asked-for']));
    const decline = new Finger(page);
    await page.goto(`${url}/leads`);
    await decline.tap(page.locator(`[id="${asked!.id}"] details.sure summary`));
    await decline.button('Decline');
    await page.waitForURL(/done=/);
    expect((await stateOf(asked!.id))[0]![0]).toBe('declined');
    expect(told('A day declined, with others offered', width)).toBe(decline.counted());

    await booked(world.store, 'F-0001', TODAY, { at: NOW });
    const came = new Finger(page);
    await page.goto(url);
    await came.button('It came: F-0001');
    await page.waitForURL(/\/bench\?done=arrived/);
    expect(told('Today: it came, or it did not', width)).toBe(came.counted());
    const [passed] = await booked(world.store, 'F-0002', '2026-06-09', { at: NOW });
    const missed = new Finger(page);
    await page.goto(url);
    await missed.button('It did not come');
    await page.waitForURL(/done=/);
    expect((await stateOf(passed!.id))[0]![0]).toBe('passed');
    expect(told('Today: it came, or it did not', width)).toBe(missed.counted());

    // Somebody whom no mail reaches, and whose fork must not be ridden.
    await page.goto(`${url}/units/F-0001`);
    await page.getByText('Crash', { exact: false }).first().click();
    await page.locator('form[action$="/mark"] input[name="why"]').fill('a bent crown');
    await page.locator('form[action$="/mark"] button').click();
    const call = new Finger(page);
    await page.goto(url);
    await call.button('Told');
    await page.waitForURL(/done=|reminders/);
    expect(told('Today: a call was made', width)).toBe(call.counted());

    const due = new Finger(page);
    await page.goto(url);
    await due.link(/^Due$/);
    await due.tap(page.locator('.tally').getByRole('link', { name: /history unknown/ }));
    await due.tap(page.locator('table.dense summary').first());
    expect(await page.locator('.folded').first().isVisible()).toBe(true);
    expect(told('Due: what is due, with a unit’s other services', width)).toBe(due.counted());

    const list = new Finger(page);
    await page.goto(url);
    await list.link(/^Due$/);
    await list.tap(page.locator('.tally').getByRole('link', { name: /history unknown/ }));
    const [file] = await Promise.all([page.waitForEvent('download'), list.link('As a file')]);
    expect(file.suggestedFilename()).toMatch(/\.csv$/);
    expect(told('A list as a file, with its filter', width)).toBe(list.counted());

    const history = new Finger(page);
    await page.goto(`${url}/riders/r1`);
    const [own] = await Promise.all([page.waitForEvent('download'), history.link(/history/i)]);
    expect(own.suggestedFilename()).toMatch(/\.csv$/);
    expect(told('A rider’s history as a file', width)).toBe(`${history.counted()} after the search`);
    expect(watched.complaints).toEqual([]);
  },
);
