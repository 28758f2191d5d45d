/** Eight winter slots offered from a quiet week, on a phone and a tablet: taps are counted, and the mails go. */
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import { instant } from '../../src/units.js';
import { manyForks, numbersTo } from '../fixtures/manyForks.js';
import { webWorld } from '../web/webWorld.js';
import { expectAccessible, hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';

const PICTURES = process.env.STANCHION_PICTURES;
const NOW = instant(Date.parse('2026-11-18T09:00:00Z'));
const FORKS = 10;

/** Invented: ten forks whose months end one after the other in winter and spring. */
const forks = manyForks({
  ...{
    count: FORKS,
    openDays: ['tue', 'wed', 'thu', 'fri'],
    timeZone: 'Europe/Lisbon',
    fittedOn: '2025-01-01',
  },
  history: () => ({ terrainHours: 1, movingHours: 1, asOf: '2026-06-01' }),
});
const document = {
  ...forks,
  units: forks.units.map(({ tag, unitKind }) => ({ tag, unitKind, history: 'new' })),
  services: numbersTo(FORKS).map((n) => ({
    unit: `F-${n}`,
    serviceKind: 'full',
    on: `2026-0${1 + Math.floor(n / 4)}-${10 + n}`,
  })),
};

test.runIf(hasBrowser).each([390, 820])(
  `eight slots of a quiet week are offered at %i px${WHY_NOT}`,
  { timeout: 120_000 },
  async (width) => {
    const world = await webWorld({ document });
    world.setNow(NOW);
    await refreshAllDue({ store: world.store, clock: { now: () => NOW } });
    const url = await served(world);
    const page = await (await openBrowser({ viewport: { width, height: 844 } })).newPage();
    const { complaints } = watch(page);
    await signIn(page, url);
    const fits = async (name: string): Promise<void> => {
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      await expectAccessible(page, 'looks');
      if (PICTURES)
        await page.screenshot({ path: join(PICTURES, `quiet-${width}-${name}.png`), fullPage: true });
    };

    await page.goto(`${url}/load`);
    await fits('weeks');
    let taps = 0;
    await page.getByRole('link', { name: 'Invite into the week 23–29 November' }).click();
    taps += 1;
    await page.getByRole('button', { name: 'Invite those ticked' }).waitFor();
    await fits('choose');
    // The week has room for all ten: the last two stay for another one.
    const ticks = page.getByRole('checkbox');
    expect(await ticks.count()).toBe(FORKS);
    for (const place of [FORKS - 1, FORKS - 2]) {
      await ticks.nth(place).uncheck();
      taps += 1;
    }
    await page.getByRole('button', { name: 'Invite those ticked' }).click();
    taps += 1;
    await page.getByText('8 invited: 8 whose mail waits.').waitFor();
    expect(taps).toBeLessThanOrEqual(6);
    await fits('invited');

    const { ids } = world.deps;
    await queueNotices({ store: world.store, clock: { now: () => NOW }, ids });
    const mails = await world.store.read((tx) => tx.mails.list());
    expect(mails.filter(({ mail }) => mail === 'invitation')).toHaveLength(8);
    expect(complaints).toEqual([]);
  },
);
