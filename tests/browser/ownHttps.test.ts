/** A rider's page that a phone keeps, over real HTTPS: behind the guide's proxy, with a certificate made for the test. */
import { chromium, type Page } from 'playwright-core';
import { expect, it, onTestFinished } from 'vitest';
import { riderTextsFor } from '../../src/languages/index.js';
import { behind, HOST, isLeftOut, SITE } from '../deploy/behind.js';
import { rideText } from '../faults/serving.js';
import { runHere } from '../fixtures/runHere.js';
import { CHROMIUM, hasBrowser, keptByWorker, QUIET, WHY_NOT } from './browser.js';

const isOut = !hasBrowser || isLeftOut('nginx');
const LEFT_OUT = hasBrowser && isOut ? ' (left out: there is no nginx)' : WHY_NOT;
const { device, files, share } = riderTextsFor('en').own;

/** A browser of its own, which alone takes that certificate and knows where the workshop's name leads. */
async function openPhone(port: number): Promise<Page> {
  const program = await chromium.launch({
    executablePath: CHROMIUM,
    headless: true,
    args: [
      ...QUIET,
      '--ignore-certificate-errors',
      `--host-resolver-rules=MAP ${HOST}:443 127.0.0.1:${port}`,
    ],
  });
  onTestFinished(() => program.close());
  const phone = await program.newContext({ viewport: { width: 390, height: 844 } });
  return phone.newPage();
}

it.skipIf(isOut)(
  `over HTTPS the page is kept, takes what is shared without a connection, and sends it once${LEFT_OUT}`,
  { timeout: 120_000 },
  async () => {
    const { door, ports, halt, resume } = await behind('nginx');
    const page = await openPhone(ports.https);
    await page.goto(`${SITE}${await door.linkOf('r1', 'page')}/files`);
    await page.getByRole('button', { name: share.toKept }).click();
    await page.waitForURL((url) => url.origin === SITE && url.pathname === '/r/own/files');
    expect(await page.getByText(share.twoTaps).count()).toBe(1);
    const manifest = (await page.evaluate(
      `fetch(document.querySelector('link[rel=manifest]').href).then((got) => got.json())`,
    )) as { share_target: { action: string; method: string } };
    expect(manifest.share_target).toMatchObject({ action: '/r/own/share', method: 'POST' });
    const [cookie] = await page.context().cookies();
    expect(cookie).toMatchObject({ name: '__Host-own', secure: true, httpOnly: true, sameSite: 'Strict' });
    await page.goto(`${SITE}/r/own/`);
    await expect.poll(() => page.evaluate('navigator.serviceWorker.controller !== null')).toBe(true);
    const kept = `caches.open('own-pages').then(async (c) => (await c.keys()).map((r) => new URL(r.url).pathname).sort().join())`;
    await expect.poll(() => page.evaluate(kept), { timeout: 20_000 }).toBe('/r/own/,/r/own/files');

    await halt();
    await page.reload();
    await page.locator('#offline').waitFor({ state: 'visible' });
    expect(await page.locator('#offline').textContent()).toContain(device.offline('').slice(0, 14));
    const other = await page.context().newPage();
    await other.setContent(
      `<form method="post" enctype="multipart/form-data" action="${SITE}/r/own/share"><input type="file" name="files"><button>share</button></form>`,
    );
    await other
      .locator('input')
      .setInputFiles({ name: 'one.gpx', mimeType: 'application/gpx+xml', buffer: Buffer.from(rideText(3)) });
    await other.locator('button').click();
    await other.getByText(files.kept).waitFor();
    await other.close();

    await resume();
    await page.goto(`${SITE}/r/own/files`);
    await page.getByText(files.said.counted).waitFor();
    const due = await runHere(['due', '--json', '--data', door.data]);
    const fork = due.rows.find(({ unit, serviceKind }) => unit === 'F-r1' && serviceKind === 'lower-leg');
    expect(fork?.movingHoursSince).toBeCloseTo(599 / 3600, 3);
    await expect.poll(() => keptByWorker(page)).toBe(0);
    await page.reload();
    expect(await page.getByText(files.said.counted).count()).toBe(0);
  },
);
