import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Chance } from '../../samples/seeded.js';
import { readDocument } from '../../src/cli/importSchema.js';
import { importLedger } from '../../src/flow/carry/importLedger.js';
import { LinkMaker } from '../../src/flow/mail/links.js';
import { calendarFeed } from '../../src/mail/calendar.js';
import type { Store } from '../../src/ports/store.js';
import { sealWith } from '../../src/secret.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { createApp } from '../../src/web/app.js';
import { hashPassword } from '../../src/web/signIn/password.js';
import { openSession } from '../../src/web/signIn/session.js';
import { filePorts } from '../fixtures/filePorts.js';
import { crawl, type PageForm } from '../fixtures/pageForms.js';
import { oneIn, pick, upTo } from './dice.js';
import { SOUND_DOCUMENT } from './documentInput.js';
import { linkInput } from './linkInput.js';

const ORIGIN = 'http://localhost';
const NOW = instant(Date.parse('2025-06-10T09:00:00Z'));
const MOST_PAGES = 60;

const ODD_TEXTS = [
  '',
  ' ',
  '0',
  '-1',
  '1e999',
  'NaN',
  '1441',
  '0,5',
  '2025-02-30',
  '2025-06-09',
  '9999-12-31',
  '<script>alert(1)</script>',
  '"><svg onload=x>',
  "'",
  '\u0000',
  '‮',
  'x'.repeat(2500),
  'a\r\nb: c',
  '../../x',
  '%00',
  '__proto__',
  'fork',
  'full',
  'lower-leg',
  'b1',
  'F-0001',
  'yes',
  'none',
  'null',
  '[object Object]',
];

/** What somebody typed has become markup; the pages' own scripts stand at addresses of their own. */
const FOREIGN_SCRIPT = /<script(?! type="module" src="\/[\w./-]+"><\/script>)|<svg onload|onload=x>/i;

export interface FormWorld {
  readonly pages: readonly string[];
  readonly forms: readonly PageForm[];
  /** Sends one form or opens one address; returns what went wrong. */
  send(chance: Chance): Promise<string | null>;
  /** Opens, or sends a form to, a link that is nearly one that was made; `wrong` says what went wrong. */
  follow(chance: Chance): Promise<{ readonly wrong: string | null; readonly opened: boolean }>;
  close(): Promise<void>;
}

/** Returns the pages over a small workshop, signed in, with every form that stands on one of them. */
export async function openFormWorld(): Promise<FormWorld> {
  const folder = mkdtempSync(join(tmpdir(), 'stanchion-fuzz-'));
  const store = await openStore(join(folder, 'stanchion.db'), NOW);
  const links = await fill(store);
  const faults: string[] = [];
  const log = { info: () => undefined, error: (what: unknown) => void faults.push(faultText(what)) };
  const secret = Buffer.alloc(32, 7);
  let uuid = 0;
  const rider = {
    ids: { uuid: () => `00000000-0000-4000-8000-${String(uuid++).padStart(12, '0')}` },
    seal: sealWith(secret),
    feed: calendarFeed,
    ...filePorts(),
  };
  // Each request a minute after the one before it, so that limits on how often seldom stand in the way.
  let now = NOW;
  const app = createApp({
    store,
    clock: { now: () => now },
    log,
    secret,
    publicUrl: null,
    restDays: 3,
    trustedProxy: [],
    metricsSecret: null,
    rider,
    ids: rider.ids,
  });
  const account = await store.read((tx) => tx.accounts.findByName('owner'));
  const cookie = `session=${await store.write((tx) => openSession(tx, account!.id, NOW))}`;
  const ask = async (path: string, body?: URLSearchParams): Promise<Response> =>
    app.request(ORIGIN + path, {
      headers: { cookie, origin: ORIGIN },
      ...(body ? { method: 'POST', body } : {}),
    });
  const crawled = await crawl(async (path) => (await ask(path)).text(), ['/', ...links], MOST_PAGES);
  const { forms } = crawled;
  const pages = [...crawled.pages.keys()];
  const made = new Set(links.map((path) => path.slice('/r/'.length)));
  const pieces = links.map((path) => {
    const [purpose, token] = path.split('/').slice(-2);
    return { purpose: purpose!, token: decodeURIComponent(token!) };
  });
  return {
    pages,
    forms,
    send: async (chance) => {
      now = instant(now + 60_000);
      const path = oneIn(chance, 4) ? oddPath(chance, pages) : null;
      const form = pick(chance, forms);
      const response = path === null ? await ask(form.action, filled(chance, form)) : await ask(path);
      const told = faults.splice(0).join('; ');
      const text = await response.text();
      if (response.status < 500 && told === '' && !FOREIGN_SCRIPT.test(text)) return null;
      return `${response.status} ${path ?? form.action}: ${told || text.slice(0, 200)}`;
    },
    follow: async (chance) => {
      now = instant(now + 60_000);
      const { purpose, token, isPost } = linkInput(chance, pieces);
      const at = `${encodeURIComponent(purpose)}/${encodeURIComponent(token)}`;
      const { status } = await ask(`/r/${at}`, isPost ? filled(chance, pick(chance, forms)) : undefined);
      const told = faults.splice(0).join('; ');
      // A link never leads elsewhere: where it does, its address was another page's, such as `/r/../units`.
      const opened = status < 300 || status === 422;
      const isFault = status >= 500 || told !== '' || (opened && !made.has(at));
      return { opened, wrong: isFault ? `${status} /r/${at}: ${told || 'a link that nobody made'}` : null };
    },
    close: async () => {
      await store.close();
      rmSync(folder, { recursive: true });
    },
  };
}

const faultText = (what: unknown): string => {
  const { error } = what as { error?: unknown };
  return error instanceof Error
    ? (error.stack ?? error.message).split('\n').slice(0, 3).join(' ')
    : JSON.stringify(what);
};

/** Returns the addresses of one rider's links. */
async function fill(store: Store): Promise<string[]> {
  const read = readDocument(SOUND_DOCUMENT);
  if ('wrong' in read) throw new Error(JSON.stringify(read.wrong));
  await store.write(async (tx) => {
    await importLedger(tx, read.document, { by: 'import', at: NOW });
    await tx.accounts.add({
      name: 'owner',
      passwordHash: await hashPassword('a password of this world', []),
      role: 'owner',
    });
  });
  return store.read(async (tx) => {
    const riderId = (await tx.handles.find('rider', 'r1'))!;
    const unitId = (await tx.handles.find('unit', 'F-0001'))!;
    const contact = (await tx.contacts.find(riderId))!;
    const made = { publicUrl: '', seal: sealWith(Buffer.alloc(32, 7)), isOneClick: false };
    const maker = new LinkMaker(made, tx.workshopId, contact, NOW);
    return [
      ...Object.values(maker.item(unitId, 'lower-leg')),
      maker.own('bike'),
      maker.own('stop'),
      maker.own('address'),
    ];
  });
}

function filled(chance: Chance, { fields }: PageForm): URLSearchParams {
  const body = new URLSearchParams();
  for (const [name, values] of fields) {
    const isToken = name === 'token';
    if (!isToken && oneIn(chance, 12)) continue;
    const isOdd = !isToken && (values.length === 0 || oneIn(chance, 2));
    body.append(name, isOdd ? pick(chance, ODD_TEXTS) : (pick(chance, values) ?? ''));
    if (!isToken && oneIn(chance, 15)) body.append(name, pick(chance, ODD_TEXTS));
  }
  if (oneIn(chance, 8)) body.append(pick(chance, ODD_TEXTS), pick(chance, ODD_TEXTS));
  return body;
}

function oddPath(chance: Chance, pages: readonly string[]): string {
  const path = pick(chance, pages);
  const odd = encodeURIComponent(pick(chance, ODD_TEXTS));
  switch (upTo(chance, 4)) {
    case 0:
      return `${path}${path.includes('?') ? '&' : '?'}${pick(chance, ['done', 'next', 'q', 'on', 'from', 'week', 'kind', 'bike', 'page', odd])}=${odd}`;
    case 1:
      return path.replace(/[^/]*$/, odd);
    case 2:
      return `${path}/${odd}`;
    default:
      return path.replace(/=[^&]*/, `=${odd}`);
  }
}
