/** The demo on a fixed day, to take pictures of. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { PICTURED_AT } from './pictures.js';

export const ROOT = resolve('.');

export interface Demo {
  readonly url: string;
  readonly password: string;
  readonly data: string;
}

const freePort = (): Promise<number> =>
  new Promise((done) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => done(port));
    });
  });

const saidBy = (child: ChildProcess): Promise<Omit<Demo, 'data'>> =>
  new Promise((done, fail) => {
    let said = '';
    child.once('exit', (status) => fail(new Error(`The demo ended with ${status}.`)));
    child.stdout?.on('data', (chunk) => {
      said += String(chunk);
      const line = said.split('\n').find((one) => one.includes('"did":"demo"'));
      if (line !== undefined && said.includes(`${line}\n`)) done(JSON.parse(line) as Omit<Demo, 'data'>);
    });
  });

/** Fills the demo, opens a browser, and ends both when `use` is done. */
export async function withDemo(use: (demo: Demo, browser: Browser) => Promise<void>): Promise<void> {
  const data = mkdtempSync(join(tmpdir(), 'stanchion-pictures-'));
  const args = ['dist/src/cli/main.js', 'demo', '--json', '--data', data, '--now', PICTURED_AT];
  const env = { ...process.env, PORT: String(await freePort()) };
  const child = spawn(process.execPath, args, { cwd: ROOT, env, stdio: ['ignore', 'pipe', 'inherit'] });
  const browser = await chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-lcd-text', '--disable-background-networking'],
  });
  try {
    await use({ ...(await saidBy(child)), data }, browser);
  } finally {
    await browser.close();
    child.removeAllListeners('exit');
    const ended = new Promise((end) => child.once('exit', end));
    child.kill('SIGTERM');
    await ended;
    rmSync(data, { recursive: true, force: true });
  }
}

export async function signIn(page: Page, { url, password }: Demo): Promise<void> {
  await page.goto(url);
  await page.locator('input[name="name"]').fill('owner');
  await page.locator('input[name="password"]').fill(password);
  await page.locator('main form button').click();
  await page.waitForURL(`${url}/`);
}

export async function open(page: Page, address: string): Promise<void> {
  const answer = await page.goto(address);
  if (answer?.status() !== 200) throw new Error(`${address} was answered with ${answer?.status()}.`);
}

/** Returns a rider's own address. The link is on the answer to the form that makes it. */
export async function ownAddress(page: Page, { url }: Demo, rider: string): Promise<string> {
  await open(page, `${url}/riders/${rider}`);
  await page.evaluate('document.querySelectorAll("details").forEach((one) => { one.open = true; })');
  await page.locator(`form[action="/riders/${rider}/link"] button`).click();
  const link = await page.locator('.said a').getAttribute('href');
  return new URL(link ?? '', url).href;
}
