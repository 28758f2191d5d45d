/** `npm run pictures`: fills the demo on a fixed day and takes the pictures of the guides from it. */
import { mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { simpleParser } from 'mailparser';
import type { Page } from 'playwright-core';
import { open, ownAddress, ROOT, signIn, withDemo } from './demo.js';
import { LARGEST_PICTURE, OF_A_RIDER, PHONE, PICTURES } from './pictures.js';

const FOLDER = join(ROOT, 'docs/pictures');
/** Riders whose page and mail are shown. */
const RIDER = 'r1';
const READER = 'r1@example.org';

async function take(page: Page, name: string): Promise<void> {
  const path = join(FOLDER, `${name}.png`);
  await page.screenshot({ path });
  const { size } = statSync(path);
  console.log(`${name}.png ${Math.ceil(size / 1024)} KB`);
  if (size > LARGEST_PICTURE) throw new Error(`${name}.png is larger than a guide may show.`);
}

async function showMail(page: Page, data: string): Promise<void> {
  const folder = join(data, 'outbox');
  for (const name of readdirSync(folder)) {
    const { to, html } = await simpleParser(readFileSync(join(folder, name)));
    const isTheirs = to !== undefined && [to].flat().some(({ text }) => text?.includes(READER));
    if (isTheirs && html) return page.setContent(html);
  }
  throw new Error(`The demo wrote no mail to ${READER}.`);
}

await withDemo(async (demo, browser) => {
  mkdirSync(FOLDER, { recursive: true });
  const page = await browser.newPage({ colorScheme: 'light', locale: 'en-GB', timezoneId: 'Europe/Lisbon' });
  await signIn(page, demo);
  for (const { name, path, width, height, from } of PICTURES) {
    await page.setViewportSize({ width, height });
    await open(page, demo.url + path);
    if (from !== undefined)
      await page.evaluate(`document.querySelector(${JSON.stringify(from)}).scrollIntoView()`);
    await take(page, name);
  }
  await page.setViewportSize(PHONE);
  await open(page, await ownAddress(page, demo, RIDER));
  await take(page, OF_A_RIDER.page);
  // A page of its own: what the workshop's pages forbid would hold for the mail's style too.
  const reader = await browser.newPage({ colorScheme: 'light', viewport: PHONE });
  await showMail(reader, demo.data);
  await take(reader, OF_A_RIDER.mail);
});
