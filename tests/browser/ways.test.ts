/** By which ways files come, and a recorder's folder read at the workshop, in a browser on a phone and a tablet. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import { rideFile } from '../flow/flowWorld.js';
import { RiderWorld } from '../flow/riderWorld.js';
import { cheapHash, NAME, PASSWORD } from '../web/webWorld.js';
import {
  expectAccessible,
  expectTouchable,
  hasBrowser,
  openBrowser,
  served,
  signIn,
  WHY_NOT,
  watch,
} from './browser.js';

const PICTURES = process.env.STANCHION_PICTURES;
const SERIALS = { r1: '3911111111', r2: '3922222222' };
const ride = (day: number, serial: string): Uint8Array =>
  rideFile(`2026-06-0${day}T08:00:00Z`, 60, { serial, loopM: 900 });

/** A recorder as it looks on a cable: rides of two riders and of a stranger, settings, and a file that is broken. */
function recorder(): string {
  const folder = join(scratchFolder(), 'Recorder');
  mkdirSync(join(folder, 'Activity'), { recursive: true });
  mkdirSync(join(folder, 'Settings'));
  const files: readonly (readonly [string, Uint8Array | string])[] = [
    ['Activity/1.fit', ride(1, SERIALS.r1)],
    ['Activity/3.fit', ride(3, SERIALS.r1)],
    ['Activity/4.fit', ride(4, SERIALS.r2)],
    ['Activity/5.fit', ride(5, '3933333333')],
    ['Activity/broken.gpx', '<gpx><trk'],
    ['Settings/list.txt', 'no ride'],
  ];
  for (const [name, bytes] of files) writeFileSync(join(folder, name), bytes);
  return folder;
}

test.runIf(hasBrowser).each([390, 820])(
  `a recorder’s folder sorts itself, and a reload of what was read sends nothing at %i px${WHY_NOT}`,
  { timeout: 90_000 },
  async (width) => {
    const world = await RiderWorld.open({ publicUrl: 'http://bench.example.org' });
    await world.store.write((tx) =>
      tx.accounts.add({ name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' }),
    );
    for (const rider of ['r1', 'r2'] as const)
      for (const day of [1, 2])
        await world.flow.take(ride(day, SERIALS[rider]), { name: `${day}.fit`, rider });
    const rides = (): Promise<number> => world.store.read(async (tx) => (await tx.readings.listIds()).length);
    const url = await served(world);
    const page = await (await openBrowser({ viewport: { width, height: 900 } })).newPage();
    const { complaints } = watch(page);
    const look = async (name: string): Promise<void> => {
      await expectAccessible(page);
      await expectTouchable(page);
      // Nothing is wider than the screen.
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
      if (PICTURES === undefined) return;
      mkdirSync(PICTURES, { recursive: true });
      await page.screenshot({ path: join(PICTURES, `ways-${width}-${name}.png`), fullPage: true });
    };
    await signIn(page, url);
    await page.goto(`${url}/ways`);
    await look('before');
    const sent: string[] = [];
    page.on('request', (request) => {
      if (request.method() === 'POST') sent.push(request.url());
    });
    await page.locator('#folder').setInputFiles(recorder());
    await page.getByRole('button', { name: 'Read these files' }).click();
    await page.waitForURL(`${url}/ways?read`);
    const read = page.locator('section[role="status"]');
    await read.getByText('2 files: It counts.').waitFor();
    await read.locator('details summary').click();
    const named = read.locator('details li');
    await expect.poll(() => named.allTextContents()).toHaveLength(2);
    expect((await named.allTextContents()).join(' ')).toMatch(/5\.fit.*broken\.gpx|broken\.gpx.*5\.fit/);
    await look('read');
    const count = await rides();
    expect(count).toBe(4 + 3);
    for (const again of [() => page.reload(), () => page.goBack(), () => page.goForward()]) await again();
    await read.getByText('2 files: It counts.').waitFor();
    expect(sent).toEqual([`${url}/ways/files`]);
    expect(await rides()).toBe(count);
    // What waits is one tap away.
    await read.getByRole('link', { name: 'To the tray' }).click();
    await page.getByRole('heading', { level: 1, name: 'Tray' }).waitFor();
    // Nothing chosen is told beside the form, and what is wrong is no fault of the page.
    expect(complaints).toEqual([]);
    await page.goto(`${url}/ways`);
    await page.getByRole('button', { name: 'Read these files' }).click();
    await page.getByText('Choose a folder or files.').waitFor();
    await look('need');
    await world.flow.expectSound();
  },
);
