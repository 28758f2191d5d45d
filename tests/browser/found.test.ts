/** What was found at a service, as its rider reads it on a phone, on a tablet and on paper. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { addService } from '../../src/flow/facts/enterFacts.js';
import { arrive, changeJob, findStay } from '../../src/flow/facts/jobs.js';
import { deliverOutbox } from '../../src/flow/mail/deliverOutbox.js';
import { queueFound } from '../../src/flow/mail/kinds/found.js';
import { addSetUp } from '../../src/flow/plan/setUps.js';
import { day } from '../../src/units.js';
import { addRings } from '../fixtures/photos.js';
import { RiderWorld } from '../flow/riderWorld.js';
import {
  expectAccessible,
  expectTouchable,
  hasBrowser,
  openBrowser,
  served,
  WHY_NOT,
  watch,
} from './browser.js';

const PICTURES = process.env.STANCHION_PICTURES;
const ON = day('2026-06-10');
/** Every picture on the page came, and is one. */
const LOADED = `Promise.all([...document.querySelectorAll('.photos img')].map(async (one) => {
  one.loading = 'eager';
  await one.decode();
  return one.naturalWidth > 0;
}))`;
const FITS = 'document.documentElement.scrollWidth <= innerWidth';

/** Returns the rider's world, and where the mail on what was found leads. */
async function told(): Promise<{ readonly world: RiderWorld; readonly path: string }> {
  const world = await RiderWorld.open({ publicUrl: 'http://bench.example.org', isOneClick: false });
  const unitId = await world.flow.id('unit', 'F-1');
  const entry = { by: 'tech', at: world.deps.clock.now() };
  await world.store.write(async (tx) => {
    await arrive(tx, unitId, { price: null }, entry);
    const findings = { crown: 'creaks', stanchions: 'scratched', foamRings: 'dark', oil: 'brown' };
    const service = { unitId, serviceKind: 'lower-leg', on: ON, by: 'here', findings, note: null } as const;
    // The period before has a day on which it began; a photograph goes to the service that is logged after it.
    await addService(tx, { ...service, on: day('2026-06-02'), findings: null }, entry);
    await addRings(tx, world.photos, 'F-1', entry.at);
    await addService(tx, service, entry);
    await addSetUp(tx, { unitId, stage: 'left', name: null, values: { pressure: '78 psi' } }, entry);
    await changeJob(tx, unitId, (await findStay(tx, unitId))!.factId, { step: 'informed' }, entry);
    expect(await queueFound(tx, unitId, entry.at, world.deps.ids)).toBe(true);
  });
  await deliverOutbox(world.deps, undefined, 'others');
  const mail = world.sent.find(({ subject }) => subject.includes('what was found'))!;
  return { world, path: new URL(/http:\/\/\S+\/found\/\S+/.exec(mail.text)![0]).pathname };
}

test.runIf(hasBrowser).each([390, 820])(
  `what matters stands first, then the hours and what comes next, with the picture, and on paper without the ways on at %i px${WHY_NOT}`,
  { timeout: 120_000 },
  async (width) => {
    const { world, path } = await told();
    const url = await served(world);
    const page = await (await openBrowser({ viewport: { width, height: 844 } })).newPage();
    const { complaints } = watch(page);
    const look = async (name: string): Promise<void> => {
      if (PICTURES === undefined) return;
      mkdirSync(PICTURES, { recursive: true });
      await page.screenshot({ path: join(PICTURES, `found-${width}-${name}.png`), fullPage: true });
    };

    await page.goto(url + path);
    await expect.poll(() => page.evaluate(LOADED)).toEqual([true]);
    const main = page.locator('main');
    const text = (await main.textContent())!.replace(/\s+/g, ' ');
    const order = [
      'Do not ride it',
      'Have this checked soon',
      'Done on',
      'Foam rings: dark',
      'Rings on white paper',
    ];
    const places = order.map((one) => text.indexOf(one));
    expect(places, text).not.toContain(-1);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(text).toMatch(/That day it had run .*\d.* since the last such service/);
    expect(text).toContain('Next, as far as we know today:');
    expect(text).not.toMatch(/price|€/i);
    expect(await page.evaluate(FITS)).toBe(true);
    await expectAccessible(page, 'looks');
    await expectTouchable(page);
    expect(await page.locator('.top nav').isVisible()).toBe(true);
    await look('screen');

    await page.emulateMedia({ media: 'print' });
    for (const way of [page.locator('.top nav'), page.getByText('use the print command')])
      expect(await way.isVisible()).toBe(false);
    expect(await page.locator('.photos img').isVisible()).toBe(true);
    for (const one of order) expect(await main.getByText(one).first().isVisible(), one).toBe(true);
    expect(await page.evaluate(FITS)).toBe(true);
    await look('paper');
    expect(complaints).toEqual([]);
  },
);
