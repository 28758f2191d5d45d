/**
 * A rider's page on a device that keeps it, in Chromium on loopback: the last known state without a connection, ride files
 * that are shared with it, sent with the tab closed or at the next opening, and nothing left after *forget*.
 */
import { setTimeout as wait } from 'node:timers/promises';
import { Hono } from 'hono';
import type { BrowserContext, Page } from 'playwright-core';
import { expect, it, onTestFinished } from 'vitest';
import { forgetAll } from '../../src/flow/carry/forgetAll.js';
import { riderTextsFor } from '../../src/languages/index.js';
import { startWeb } from '../../src/web/serve.js';
import type { WebEnv } from '../../src/web/viewer.js';
import { filePorts } from '../fixtures/filePorts.js';
import { rideFile } from '../flow/flowWorld.js';
import { linkOf, RiderWorld } from '../flow/riderWorld.js';
import { hasBrowser, keptByWorker, openBrowser, WHY_NOT } from './browser.js';

/** Two riders and forks, and a device that keeps the first one's page; the line to it can be cut. */
async function kept({ language = 'en', sendsLateMs = 0 } = {}) {
  const world = await RiderWorld.open({ publicUrl: 'http://bench.example.org', isOneClick: false });
  const home = new URL(linkOf(await world.reminderTo('r1@example.org'), 'page')).pathname;
  const app = new Hono<WebEnv>();
  app.use('/script/sendFiles*', (_, next) => wait(sendsLateMs).then(next));
  app.route('/', world.app);
  let web = await startWeb(app, { host: '127.0.0.1', port: 0 });
  onTestFinished(() => web.close().catch(() => undefined));
  const { url } = web;
  const cut = () => web.close();
  const mend = async () => {
    web = await startWeb(app, { host: '127.0.0.1', port: Number(new URL(url).port) });
  };
  const browser = await openBrowser({ viewport: { width: 390, height: 844 } });
  const page = await browser.newPage();
  await page.goto(url + home);
  await page.goto(`${url}/r/own/`);
  await expect.poll(() => page.evaluate('navigator.serviceWorker.controller !== null')).toBe(true);
  const keeps = `caches.open('own-pages').then(async (c) => (await c.keys()).map((r) => new URL(r.url).pathname).sort().join())`;
  await expect.poll(() => page.evaluate(keeps)).toBe('/r/own/,/r/own/files');
  const rides = async () => {
    const riderId = await world.flow.id('rider', 'r1');
    return world.store.read((tx) => tx.rides.listOf({ riderIds: [riderId], bikeIds: [] }));
  };
  return { world, url, cut, mend, browser, page, rides, texts: riderTextsFor(language).own };
}

/** Shares files as a phone does: a POST that no page of ours sends. Source: W3C Web Share Target API, "files". */
async function share(browser: BrowserContext, url: string, names: readonly string[]): Promise<Page> {
  const page = await browser.newPage();
  await page.setContent(
    `<form method="post" enctype="multipart/form-data" action="${url}/r/own/share"><input type="file" name="files" multiple><button>share</button></form>`,
  );
  await page.locator('input').setInputFiles(
    names.map((name, i) => ({
      name,
      mimeType: 'application/octet-stream',
      buffer: Buffer.from(rideFile(`2026-06-0${i + 5}T08:00:00Z`, 60)),
    })),
  );
  await page.locator('button').click();
  await page.waitForURL(`${url}/r/own/files`);
  return page;
}

it.runIf(hasBrowser)(
  `shows the last known state without a connection, and says so${WHY_NOT}`,
  { timeout: 60_000 },
  async () => {
    const { url, cut, mend, page, texts } = await kept();
    const heading = page.getByRole('heading', { name: 'Moss Hopper' });
    const offline = page.locator('#offline');
    expect(await heading.count()).toBe(1);
    expect(await offline.isVisible()).toBe(false);
    await cut();
    await page.reload();
    expect(await heading.count()).toBe(1);
    expect(await offline.textContent()).toContain(texts.device.offline('').slice(0, 14));
    // A page that was never opened gives way to the first.
    await page.goto(`${url}/r/own/help`);
    expect(await heading.count()).toBe(1);
    await mend();
    await page.goto(`${url}/r/own/`);
    expect(await offline.isVisible()).toBe(false);
  },
);

it.runIf(hasBrowser)(
  `keeps what is shared without a connection, shows it as waiting, and sends it at the next opening${WHY_NOT}`,
  { timeout: 60_000 },
  async () => {
    // On a slow line the script comes long after its page, which is kept once all it needs is.
    const { url, cut, mend, browser, page, rides, texts } = await kept({ sendsLateMs: 3000 });
    await cut();
    const shared = await share(browser, url, ['one.fit', 'two.fit']);
    await shared.getByText(texts.files.kept).first().waitFor();
    expect(await shared.getByText(texts.files.kept).count()).toBe(2);
    await shared.close();
    await page.goto(`${url}/r/own/`);
    await page.locator('#waiting').waitFor({ state: 'visible' });
    expect(await page.locator('#waiting').textContent()).toContain('2');
    expect(await rides()).toHaveLength(0);
    await mend();
    await page.goto(`${url}/r/own/files`);
    await page.getByText(texts.files.said.counted).nth(1).waitFor();
    expect(await rides()).toHaveLength(2);
    // What was shown is let go of: nothing waits, and nothing is sent again.
    await expect.poll(() => keptByWorker(page)).toBe(0);
    await page.goto(`${url}/r/own/`);
    expect(await page.locator('#waiting').isVisible()).toBe(false);
    expect(await rides()).toHaveLength(2);
  },
);

it.runIf(hasBrowser)(
  `sends it with the tab closed, once there is a signal, and tells at the next opening${WHY_NOT}`,
  { timeout: 60_000 },
  async () => {
    const { url, cut, mend, browser, page, rides, texts } = await kept();
    await cut();
    await (await share(browser, url, ['late.fit'])).close();
    const session = await browser.newCDPSession(page);
    const registered = new Promise<string>((resolve) => {
      session.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
        const [one] = registrations.filter(({ scopeURL }) => scopeURL.startsWith(url));
        if (one) resolve(one.registrationId);
      });
    });
    await session.send('ServiceWorker.enable');
    const registrationId = await registered;
    await page.goto('about:blank');
    await mend();
    // As the browser does by itself when a signal is back.
    await session.send('ServiceWorker.dispatchSyncEvent', {
      origin: url,
      registrationId,
      tag: 'send',
      lastChance: false,
    });
    await expect.poll(async () => (await rides()).length, { timeout: 20_000 }).toBe(1);
    await page.goto(`${url}/r/own/files`);
    await page.getByText(texts.files.said.counted).waitFor();
    expect(await rides()).toHaveLength(1);
  },
);

it.runIf(hasBrowser)(
  `keeps nothing once its rider is forgotten: at the next opening pages and waiting files are gone${WHY_NOT}`,
  { timeout: 60_000 },
  async () => {
    const { world, url, cut, mend, browser, page, rides } = await kept();
    await cut();
    await (await share(browser, url, ['never.fit'])).close();
    const riderId = await world.flow.id('rider', 'r1');
    const { forgetting } = filePorts();
    await forgetAll({ ...world.deps, forgetting }, riderId);
    await mend();
    await page.goto(`${url}/r/own/`);
    expect(await page.getByRole('heading', { name: 'Moss Hopper' }).count()).toBe(0);
    const left = await page.evaluate(`(async () => {
      const pages = await (await caches.open('own-pages')).keys();
      const store = await new Promise((resolve) => { const asked = indexedDB.open('own'); asked.onsuccess = () => resolve(asked.result); });
      const kept = await new Promise((resolve) => { const asked = store.transaction('kept').objectStore('kept').getAll(); asked.onsuccess = () => resolve(asked.result); });
      return [pages.length, kept.length];
    })()`);
    expect(left).toEqual([0, 0]);
    await cut();
    await page.goto(`${url}/r/own/`).catch(() => undefined);
    expect(await page.getByRole('heading', { name: 'Moss Hopper' }).count()).toBe(0);
    expect(await rides()).toHaveLength(0);
  },
);
