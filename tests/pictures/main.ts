/** `npm run pictures`: fills the demo on a fixed day and takes the pictures of the guides from it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { simpleParser } from 'mailparser';
import { chromium, type Page } from 'playwright-core';
import { LARGEST_PICTURE, OF_A_RIDER, PHONE, PICTURED_AT, PICTURES } from './pictures.js';

const ROOT = resolve('.');
const FOLDER = join(ROOT, 'docs/pictures');
/** Riders whose page and mail are shown. */
const RIDER = 'r1';
const READER = 'r1@example.org';

interface Demo {
  readonly url: string;
  readonly password: string;
}

const freePort = (): Promise<number> =>
  new Promise((done) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => done(port));
    });
  });

function demoOf(child: ChildProcess): Promise<Demo> {
  return new Promise((done, fail) => {
    let said = '';
    child.once('exit', (status) => fail(new Error(`The demo ended with ${status}.`)));
    child.stdout?.on('data', (chunk) => {
      said += String(chunk);
      const line = said.split('\n').find((one) => one.includes('"did":"demo"'));
      if (line !== undefined && said.includes(`${line}\n`)) done(JSON.parse(line) as Demo);
    });
  });
}

async function take(page: Page, name: string): Promise<void> {
  const path = join(FOLDER, `${name}.png`);
  await page.screenshot({ path });
  const { size } = statSync(path);
  console.log(`${name}.png ${Math.ceil(size / 1024)} KB`);
  if (size > LARGEST_PICTURE) throw new Error(`${name}.png is larger than a guide may show.`);
}

async function signIn(page: Page, { url, password }: Demo): Promise<void> {
  await page.goto(url);
  await page.locator('input[name="name"]').fill('owner');
  await page.locator('input[name="password"]').fill(password);
  await page.locator('main form button').click();
  await page.waitForURL(`${url}/`);
}

async function open(page: Page, address: string): Promise<void> {
  const answer = await page.goto(address);
  if (answer?.status() !== 200) throw new Error(`${address} was answered with ${answer?.status()}.`);
}

/** The link is on the answer to the form that makes it. */
async function openOwnPage(page: Page, { url }: Demo): Promise<void> {
  await open(page, `${url}/riders/${RIDER}`);
  await page.locator(`form[action="/riders/${RIDER}/link"] button`).click();
  const link = await page.locator('.said a').getAttribute('href');
  await open(page, new URL(link ?? '', url).href);
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

const data = mkdtempSync(join(tmpdir(), 'stanchion-pictures-'));
const args = ['dist/src/cli/main.js', 'demo', '--json', '--data', data, '--now', PICTURED_AT];
const env = { ...process.env, PORT: String(await freePort()) };
const child = spawn(process.execPath, args, { cwd: ROOT, env, stdio: ['ignore', 'pipe', 'inherit'] });
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-lcd-text', '--disable-background-networking'],
});
try {
  const demo = await demoOf(child);
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
  await openOwnPage(page, demo);
  await take(page, OF_A_RIDER.page);
  // A page of its own: what the workshop's pages forbid would hold for the mail's style too.
  const reader = await browser.newPage({ colorScheme: 'light', viewport: PHONE });
  await showMail(reader, data);
  await take(reader, OF_A_RIDER.mail);
} finally {
  await browser.close();
  child.removeAllListeners('exit');
  const ended = new Promise((end) => child.once('exit', end));
  child.kill('SIGTERM');
  await ended;
  rmSync(data, { recursive: true, force: true });
}
