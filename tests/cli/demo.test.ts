import { existsSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { makeScenario } from '../../samples/scenario.js';
import { LEAD_STATES } from '../../src/core/plan/leads.js';
import { HOUR_SOURCES, STATES } from '../../src/core/tokens.js';
import { pageTextsFor } from '../../src/languages/index.js';
import { MAIL_STATES } from '../../src/ports/mails.js';
import { ROUTES } from '../../src/web/routes.js';
import { voiceOf } from '../../src/web/viewer.js';
import { scratchFolder, startProgram } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';
import { PICTURES } from '../pictures/pictures.js';
import { plain } from '../web/visitor.js';

/** Units: milliseconds; a busy machine may take long to fill it. */
const PATIENCE_MS = 180_000;
/** A Wednesday, when the invented workshop is open. */
const AT = ['--now', '2025-06-18T12:00:00Z'];

/** It takes long to fill, so all is looked at in one. What `--once` prints is looked at where the package is tried. */
it('the demo shows every state, is sound, and serves its pages to whoever signs in, each with something worth seeing', {
  timeout: PATIENCE_MS,
}, async () => {
  const data = join(scratchFolder(), 'demo');
  const { firstLine, stop } = await startProgram(['demo', '--json', '--data', data, ...AT], { PORT: '0' });
  expect(existsSync(join(data, 'outbox'))).toBe(true);

  const at = ['--json', '--data', data, '--now', '2025-06-18T08:00:00Z'];
  const rowsOf = async (...args: readonly string[]) => (await runHere([...args, ...at])).rows;
  const valuesOf = async (name: string, ...args: readonly string[]): Promise<Set<unknown>> =>
    new Set((await rowsOf(...args)).map((row) => row[name]));
  const due = await rowsOf('due');
  expect(new Set(due.map((row) => row.state))).toEqual(new Set(STATES));
  for (const { unit, serviceKind, state, limit } of makeScenario('2025-06-18').expected) {
    const row = due.find((one) => one.unit === unit && one.serviceKind === serviceKind);
    expect(row, `${unit} ${serviceKind}`).toMatchObject({ state, ...(limit === undefined ? {} : { limit }) });
  }
  expect(new Set(due.map((row) => row.limit))).toEqual(
    new Set(['terrain-hours', 'moving-hours', 'months', 'none']),
  );
  expect(await valuesOf('state', 'leads', '--all')).toEqual(new Set(LEAD_STATES));
  // That one is asked when a later reader no longer finds a ride: no file of a new ledger brings it about.
  const asked = Object.keys(pageTextsFor('en').tray.question).filter((code) => code !== 'not-in-file');
  expect(await valuesOf('code', 'tray')).toEqual(new Set(asked));
  const hours: Record<string, unknown>[] = [];
  for (const bike of ['b7', 'b9', 'b12']) hours.push(...(await rowsOf('hours', bike)));
  const filled = hours.filter(({ movingHours }) => Number(movingHours) > 0).map(({ source }) => source);
  expect(new Set(filled)).toEqual(new Set(HOUR_SOURCES));
  expect(await valuesOf('isInForce', 'story', 'C-0104')).toEqual(new Set([true, false]));
  expect(await rowsOf('check')).toMatchObject([{ ok: true }]);
  await expectWorthSeeing(firstLine);
  expect(await stop()).toBe(0);
});

/** Addresses that are no page to look at. */
/** Once reminders go, there is no mail to read before it does. */
const NO_PAGES =
  /^GET \/(metrics|healthz|readyz|style\/|icon|app\.webmanifest|script\/|sign-in|bookings\/|lists\/|riders\/:handle\/history|workshop|reminders\/|units\/:tag\/photos\/)/;
/** What the parts of an address name in the demo. */
const NAMED: Readonly<Record<string, string>> = {
  ':tag': 'C-0104',
  ':handle': 'b7',
  'GET /riders/:handle': 'r1',
  'GET /riders/:handle/history': 'r1',
  'GET /riders/:handle/labels': 'r1',
  'GET /reminders/:handle': 'r1',
  ':unitKind': 'fork',
  ':serviceKind': 'lower-leg',
  ':fleet': 't1',
  ':race': 'x1',
};

/** What is asked of a page that is empty without a question. */
const ASKED: Readonly<Record<string, string>> = { 'GET /find': '?q=C-01' };

/** Texts that say that a page, or a part of it, has nothing to show. */
function emptyTexts(texts: unknown, key = ''): string[] {
  if (typeof texts === 'string')
    return /^(nothing|empty|none)$|(Nothing|Empty|None)$/.test(key) && texts.length > 12 ? [texts] : [];
  if (texts === null || typeof texts !== 'object') return [];
  return Object.entries(texts).flatMap(([name, below]) => emptyTexts(below, name));
}

async function expectWorthSeeing(firstLine: string): Promise<void> {
  const { url, account, password } = JSON.parse(firstLine) as Record<string, string>;
  const page = await fetch(url!, { redirect: 'follow' });
  expect(page.status).toBe(200);
  expect(await page.text()).toMatch(/type="password"/);
  expect([account, password?.length]).toEqual(['owner', 12]);

  const signedIn = await fetch(`${url}/sign-in`, {
    method: 'POST',
    redirect: 'manual',
    headers: { origin: url! },
    body: new URLSearchParams({ name: account!, password: password! }),
  });
  const cookie = signedIn.headers.getSetCookie()[0]!.split(';')[0]!;
  const read = async (path: string): Promise<string> => {
    const answer = await fetch(url + path, { headers: { cookie } });
    expect(answer.status, path).toBe(200);
    return answer.text();
  };
  const linkOn = async (path: string, link: RegExp): Promise<string> => {
    const found = link.exec(await read(path));
    if (found === null) throw new Error(`${path} has no link like ${link}`);
    return found[1]!;
  };
  const ids: Readonly<Record<string, string>> = {
    ':fact': await linkOn('/units/C-0104', /\/units\/C-0104\/lines\/([^"/]+)/),
    ':mail': await linkOn('/mails?state=handed-over', /\/mails\/([^"/?]+)/),
    ':id': await linkOn('/bikes/b4', /\/rides\/([^"/]+)/),
  };
  const empty = emptyTexts(voiceOf('en').texts);
  expect(empty.length).toBeGreaterThan(8);
  const routes = Object.keys(ROUTES).filter((route) => route.startsWith('GET ') && !NO_PAGES.test(route));
  expect(routes.length).toBeGreaterThan(25);
  const seen: string[] = [];
  for (const route of routes) {
    const path = route
      .slice('GET '.length)
      .replace(/:\w+/g, (part) => NAMED[route] ?? ids[part] ?? NAMED[part] ?? part);
    const [main] = /<main[\s\S]*<\/main>/.exec(await read(path + (ASKED[route] ?? ''))) ?? [];
    if (main === undefined) throw new Error(`${path} is no page`);
    const text = plain(main);
    for (const nothing of empty) if (text.includes(nothing)) seen.push(`${path}: ${nothing}`);
    expect(text.length, path).toBeGreaterThan(120);
  }
  expect(seen).toEqual([]);
  // The demo's folder is where its mails end, so that none is left unsent.
  for (const state of MAIL_STATES.filter((one) => one !== 'not-sent'))
    expect(await read(`/mails?state=${state}`), state).toContain('<td');
  // What happens around the services is told once each.
  const around = [
    ['/', /it creaks under load again/],
    ['/', /the full service waits for a yes/],
    ['/', /was to be back on/],
    ['/fleets/t2/hire', /F-0306/],
    ['/load/quiet', /2 invited: 1 done/],
  ] as const;
  for (const [path, told] of around) expect(plain(await read(path)), path).toMatch(told);
  await expectFoundTold(read, linkOn);
  for (const { path, from } of PICTURES) {
    const [name, of] = from?.split('.') ?? ['main'];
    expect(await read(path), path).toMatch(new RegExp(`<${name}[^>]*${of ?? ''}`));
  }
}

/** One service has a photograph in its book, and its rider has the mail on what was found. */
async function expectFoundTold(
  read: (path: string) => Promise<string>,
  linkOn: (path: string, link: RegExp) => Promise<string>,
): Promise<void> {
  expect(await read('/units/F-0110')).toMatch(/<img src="\/units\/F-0110\/photos\/[^"]+\/small"/);
  const path = await linkOn('/mails', /"(\/mails\/[^"?]+)"(?:(?!<\/tr>)[\s\S])*what was found/);
  const mail = plain(await read(path));
  for (const told of ['Foam rings: dark', 'Set-up as it left', '74 psi']) expect(mail).toContain(told);
}

it('the demo tries its port before it fills a folder, and says how to take another', async () => {
  const taken = createServer();
  await new Promise<void>((resolve) => taken.listen(0, '127.0.0.1', resolve));
  const { port } = taken.address() as AddressInfo;
  const data = join(scratchFolder(), 'demo');
  const before = process.env.PORT;
  process.env.PORT = String(port);
  try {
    const { status, stdout, stderr } = await runHere(['demo', '--data', data, ...AT]);
    expect(status).toBe(1);
    expect(stderr).toContain(`PORT=${port + 1} npm run demo`);
    expect(stdout).toBe('');
    expect(existsSync(data)).toBe(false);
  } finally {
    if (before === undefined) delete process.env.PORT;
    else process.env.PORT = before;
    taken.close();
  }
});
