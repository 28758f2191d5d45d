/** A team mechanic's job in a real browser: hours left, a crash, a swap, a service, the race on paper. */
import { expect, test } from 'vitest';
import { teamWorld } from '../web/teamWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';

test.runIf(hasBrowser)(
  `a mechanic sees the fleet, swaps two units, logs a service and prints the race${WHY_NOT}`,
  { timeout: 120_000 },
  async () => {
    const world = await teamWorld();
    const url = await served(world);
    const page = await (await openBrowser({ javaScriptEnabled: true })).newPage();
    const { complaints, hosts } = watch(page);
    await page.setViewportSize({ width: 390, height: 844 });
    await signIn(page, url, 'oak');
    expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Team Bramblewick');
    expect(await page.locator('nav').first().getByRole('link').allTextContents()).toEqual([
      'Fleet',
      'Swap',
      'Races',
    ]);
    await expectAccessible(page);
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);

    // A crash: nobody rides on it, and the spare goes on in its place.
    await page.getByRole('link', { name: 'F-0503' }).click();
    await page.getByText('Crash', { exact: false }).first().click();
    await page.locator('input[name="why"]').fill('bent crown');
    await page.locator('form[action$="/mark"] button').click();
    await expectAccessible(page);
    await page.getByRole('link', { name: 'Swap' }).click();
    await expectAccessible(page);
    await page.getByRole('link', { name: /F-0503/ }).click();
    await expectAccessible(page);
    await page.getByRole('button', { name: /F-0509/ }).click();
    expect(await page.getByRole('status').textContent()).toContain('F-0503 and F-0509 are swapped.');
    await page.getByRole('link', { name: 'Fleet', exact: true }).click();
    const row = (tag: string) => page.getByRole('row', { name: new RegExp(tag) });
    expect(await row('F-0509').textContent()).toContain('Race bike x3');
    expect(await row('F-0503').textContent()).toMatch(
      /spare.*Stop riding, have it checked first: bent crown/s,
    );

    // The service that the next race asks for.
    await page.getByRole('link', { name: 'Races', exact: true }).click();
    await page.getByRole('link', { name: 'Oakhollow Downhill' }).click();
    expect(await page.getByRole('row', { name: /F-0501/ }).textContent()).toContain('lower-leg service');
    await expectAccessible(page);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect([...pdf.matchAll(/\/Type\s*\/Page\b/g)]).toHaveLength(1);
    await page.getByRole('link', { name: 'F-0501' }).first().click();
    await page.getByRole('link', { name: 'Log a service' }).click();
    await page.locator('select[name="kind"]').selectOption('lower-leg');
    await page.getByRole('button', { name: 'Log this service' }).click();
    await page.getByRole('link', { name: 'Races', exact: true }).click();
    await page.getByRole('link', { name: 'Oakhollow Downhill' }).click();
    expect(await page.getByRole('row', { name: /F-0501/ }).count()).toBe(0);

    expect(complaints).toEqual([]);
    expect([...hosts]).toEqual([new URL(url).host]);
    expect(world.faults).toEqual([]);
  },
);
