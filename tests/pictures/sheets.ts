/**
 * `npm run sheets [FOLDER]`: takes every page of the table of routes, on a phone, a tablet and a desk, in light and dark,
 * on paper, and in Portuguese; lays them out on contact sheets to be looked at.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { ROUTES } from '../../src/web/routes.js';
import { type Demo, open, ownAddress, signIn, withDemo } from './demo.js';

const FOLDER = resolve(process.argv[2] ?? 'contact-sheets');
const RIDER = 'r1';

interface Look {
  readonly name: string;
  readonly width: number;
  readonly scheme?: 'dark';
  readonly isPaper?: true;
  readonly language?: 'pt';
}
const LOOKS: readonly Look[] = [
  { name: 'phone', width: 390 },
  { name: 'tablet', width: 820 },
  { name: 'desk', width: 1280 },
  { name: 'phone-dark', width: 390, scheme: 'dark' },
  { name: 'desk-dark', width: 1280, scheme: 'dark' },
  // A4 at 96 to the inch, without its margins.
  { name: 'paper', width: 688, isPaper: true },
  { name: 'phone-pt', width: 390, language: 'pt' },
];
/** No page of a browser's. */
const NO_PAGE = /^\/(metrics|healthz|readyz|style|icon|app\.webmanifest|script|bookings|lists)\b/;
/** So many addresses are opened in search of one for each route. */
const MOST_OPENED = 400;
/** A longer page is cut: it is looked at by its own picture. Units: CSS pixels. */
const TALLEST = 6000;
const PER_SHEET = 6;

interface Seen {
  readonly name: string;
  readonly address: string;
}

const pattern = (route: string): RegExp => new RegExp(`^${route.replace(/:[a-zA-Z]+/g, '[^/]+')}$`);
const fileName = (path: string): string => path.replace(/^\//, '').replace(/[/:?=&.]+/g, '-') || 'today';

const linksOf = (page: Page): Promise<string[]> =>
  page.evaluate(`[...document.querySelectorAll('a[href]')].map((one) => one.href)`);

/** Returns one address for each route that the pages themselves lead to. Says which ones they do not. */
async function crawl(page: Page, { url }: Demo): Promise<Seen[]> {
  const wanted = Object.keys(ROUTES)
    .filter((key) => key.startsWith('GET ') && !NO_PAGE.test(key.slice(4)))
    .map((key) => key.slice(4));
  const found = new Map<string, string>();
  const waiting = [`${url}/`, `${url}/account`];
  const known = new Set(waiting);
  const opened = new Map<string, number>();
  for (let count = 0; waiting.length > 0 && count < MOST_OPENED && found.size < wanted.length; ) {
    const address = waiting.shift()!;
    const { pathname, origin } = new URL(address);
    const route = wanted.find((one) => pattern(one).test(pathname));
    // Static routes come before those that would take their name for a parameter.
    if (origin !== url || route === undefined || (opened.get(route) ?? 0) >= 8) continue;
    opened.set(route, (opened.get(route) ?? 0) + 1);
    count += 1;
    const answer = await page.goto(address).catch(() => null);
    if (answer?.status() !== 200 || !(answer.headers()['content-type'] ?? '').includes('html')) continue;
    if (!found.has(route)) found.set(route, address);
    for (const link of await linksOf(page)) {
      const bare = link.split('#')[0]!;
      if (!known.has(bare)) waiting.push(bare);
      known.add(bare);
    }
  }
  for (const route of wanted) if (!found.has(route)) console.log(`no page of the demo leads to ${route}`);
  return [...found].map(([route, address]) => ({ name: fileName(route), address }));
}

/** Returns the pages behind a rider's own link, one of each kind. */
async function ownPages(page: Page, demo: Demo): Promise<Seen[]> {
  const home = await ownAddress(page, demo, RIDER);
  const found = new Map<string, string>([['own', home]]);
  const waiting = [home];
  for (let count = 0; waiting.length > 0 && count < 60; count += 1) {
    await page.goto(waiting.shift()!).catch(() => null);
    for (const link of await linksOf(page)) {
      if (!link.startsWith(home) || link.endsWith('/data')) continue;
      const rest = link.slice(home.length).split(/[?#]/)[0]!.split('/').filter(Boolean);
      const kind = ['own', ...rest.map((part) => (/\d/.test(part) ? 'one' : part))].join('-');
      if (found.has(kind)) continue;
      found.set(kind, link);
      waiting.push(link);
    }
  }
  return [...found].map(([name, address]) => ({ name, address }));
}

/** Has the workshop and the rider read a language. Errors: a page that is still in another. */
async function speak(page: Page, { url }: Demo, seen: readonly Seen[], language: string): Promise<void> {
  await page.emulateMedia({ media: 'screen' });
  const own = seen.find(({ name }) => name === 'own-mails')!.address;
  for (const address of [`${url}/settings/workshop`, own]) {
    await open(page, address);
    const form = page.locator('main form:has(select[name="language"])');
    await form.locator('select[name="language"]').selectOption(language);
    // The last one saves; those before it fill in an example.
    await form.locator('button').last().click();
    await page.locator(`html[lang="${language}"]`).waitFor({ state: 'attached' });
  }
}

async function takeLook(page: Page, look: Look, seen: readonly Seen[]): Promise<string[]> {
  const folder = join(FOLDER, look.name);
  mkdirSync(folder, { recursive: true });
  await page.emulateMedia({ colorScheme: look.scheme ?? 'light', media: look.isPaper ? 'print' : 'screen' });
  const taken: string[] = [];
  for (const { name, address } of seen) {
    await page.setViewportSize({ width: look.width, height: 800 });
    const answer = await page.goto(address).catch(() => null);
    if (answer?.status() !== 200) {
      console.log(`${look.name}: ${name} was answered with ${answer?.status()}`);
      continue;
    }
    const height = Number(await page.evaluate('document.documentElement.scrollHeight'));
    await page.screenshot({
      path: join(folder, `${name}.png`),
      clip: { x: 0, y: 0, width: look.width, height: Math.min(height, TALLEST) },
      fullPage: true,
    });
    taken.push(name);
  }
  return taken;
}

async function layOut(browser: Browser, look: Look, names: readonly string[]): Promise<void> {
  const page = await browser.newPage({ viewport: { width: 1500, height: 900 } });
  for (let at = 0; at < names.length; at += PER_SHEET) {
    const part = names.slice(at, at + PER_SHEET);
    const sheet = join(FOLDER, `${look.name}-${1 + at / PER_SHEET}.html`);
    writeFileSync(
      sheet,
      `<!doctype html><style>body{display:grid;grid-template-columns:repeat(3,1fr);gap:12px;font:14px sans-serif}figure{margin:0}img{width:100%;max-height:1000px;object-fit:cover;object-position:top;border:1px solid #999}</style>${part
        .map(
          (name) => `<figure><figcaption>${name}</figcaption><img src="${look.name}/${name}.png"></figure>`,
        )
        .join('')}`,
    );
    await page.goto(`file://${sheet}`);
    await page.screenshot({ path: sheet.replace(/html$/, 'png'), fullPage: true });
  }
  await page.close();
}

await withDemo(async (demo, browser) => {
  const page = await browser.newPage({ locale: 'en-GB', timezoneId: 'Europe/Lisbon' });
  await signIn(page, demo);
  const seen = [...(await crawl(page, demo)), ...(await ownPages(page, demo))];
  for (const look of LOOKS) {
    if (look.language !== undefined) await speak(page, demo, seen, look.language);
    const taken = await takeLook(page, look, seen);
    await layOut(browser, look, taken);
    console.log(`${look.name}: ${taken.length} pages`);
  }
});
