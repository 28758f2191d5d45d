import { randomUUID, scryptSync } from 'node:crypto';
import type { Hono } from 'hono';
import { onTestFinished } from 'vitest';
import { readDocument } from '../../src/cli/importSchema.js';
import { addDays } from '../../src/core/days/calendar.js';
import { importLedger } from '../../src/flow/carry/importLedger.js';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import type { Store } from '../../src/ports/store.js';
import { openStore } from '../../src/store/open.js';
import { day, type Instant, instant } from '../../src/units.js';
import { createApp } from '../../src/web/app.js';
import type { WebDeps } from '../../src/web/deps.js';
import type { WebEnv } from '../../src/web/viewer.js';
import { lastingPlace, newPlace } from '../fixtures/storePlace.js';

export const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));
export const TODAY = day('2026-06-10');
export const NAME = 'owner';
export const PASSWORD = 'correct wheel spanner';

/** The same form as a real account's, at a cost that suits a test. */
export function cheapHash(password: string): string {
  const salt = Buffer.from('invented salt');
  const hash = scryptSync(password, salt, 32, { N: 2 ** 10, r: 8, p: 1 });
  return ['scrypt', 10, 8, 1, salt.toString('base64url'), hash.toString('base64url')].join('$');
}

/** Invented: one ride of three hours on typical ground in each of the last fifteen weeks, 45 hours in all. */
const weeklyRides = (bike: string) =>
  Array.from({ length: 15 }, (_, week) => ({
    bike,
    on: addDays(TODAY, -3 - 7 * week),
    minutes: 180,
    ground: 'typical',
  }));

const unit = (tag: string, unitKind: string, model: string | null, history: unknown = 'new') => ({
  tag,
  unitKind,
  model,
  history,
});

/** Invented. F-0001 has run 45 hours; F-0002 has not run; F-0003's history is unknown; A-0001 lies in its box. */
export const DOCUMENT = {
  workshop: {
    id: 'w1',
    name: 'Tumbledown Suspension Bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['tue', 'wed', 'thu', 'fri', 'sat'],
    remindersFrom: '2020-01-01',
  },
  riders: [
    { id: 'r1', name: 'Pia Lanternby', email: 'r1@example.org', language: 'en', addressConfirmed: true },
    { id: 'r2', name: 'Otto <script>alert(1)</script>', email: 'r2@example.org', language: 'en' },
  ],
  bikes: [
    { id: 'b1', rider: 'r1', name: 'Green trail bike', type: 'trail' },
    { id: 'b2', rider: 'r2', name: 'Bike "2" <b>bold</b>', type: 'gravity' },
    { id: 'b3', rider: null, name: 'Hire bike', type: 'trail' },
  ],
  units: [
    unit('F-0001', 'fork', 'Sample fork T-150'),
    unit('F-0002', 'fork', 'Sample fork <i>T</i>'),
    unit('F-0003', 'fork', null, 'unknown'),
    unit('A-0001', 'air-shock', 'Sample shock A-55'),
  ],
  fittings: [
    { unit: 'F-0001', bike: 'b1', from: '2026-01-01', to: null },
    { unit: 'F-0002', bike: 'b2', from: '2026-05-01', to: null },
    { unit: 'F-0003', bike: 'b3', from: '2026-05-01', to: null },
  ],
  hours: weeklyRides('b1'),
};

export interface WebWorld {
  readonly app: Hono<WebEnv>;
  readonly store: Store;
  readonly deps: WebDeps;
  /** Of the database. */
  readonly path: string;
  /** Moves the clock. */
  setNow(now: Instant): void;
  /** What the log was told of this program's own faults. */
  readonly faults: unknown[];
}

export async function takeDocument(store: Store, document: unknown, now: Instant): Promise<void> {
  const read = readDocument(document);
  if (!('document' in read)) throw new Error(JSON.stringify(read));
  await store.write((tx) => importLedger(tx, read.document, { by: 'import', at: now }));
}

const drafts = new Map<string, Promise<string>>();

/** Filled once for each document, and copied for each test. */
async function draftOf(document: unknown): Promise<string> {
  const path = await lastingPlace();
  const store = await openStore(path, NOW);
  await store.write((tx) =>
    tx.accounts.add({ name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' }),
  );
  if (document !== null) await takeDocument(store, document, NOW);
  await refreshAllDue({ store, clock: { now: () => NOW } });
  await store.close();
  return path;
}

/** Returns the pages over a store of their own, with one account; `document` null leaves it empty. */
export async function webWorld(
  options: {
    readonly document?: unknown;
    readonly publicUrl?: string;
    readonly trustedProxy?: readonly string[];
    readonly metricsSecret?: string;
  } = {},
): Promise<WebWorld> {
  const { document = DOCUMENT, publicUrl = null, trustedProxy = [], metricsSecret = null } = options;
  const key = JSON.stringify(document);
  const draft = drafts.get(key) ?? draftOf(document);
  drafts.set(key, draft);
  const path = await newPlace(await draft);
  const store = await openStore(path, NOW);
  onTestFinished(() => store.close());
  let now = NOW;
  const clock = { now: () => now };
  const faults: unknown[] = [];
  const log = { info: () => {}, error: (what: unknown) => faults.push(what) };
  const ids = { uuid: randomUUID };
  const deps: WebDeps = {
    store,
    clock,
    ids,
    log,
    secret: Buffer.alloc(32, 7),
    publicUrl,
    trustedProxy,
    metricsSecret,
    restDays: 3,
  };
  return {
    app: createApp(deps),
    store,
    deps,
    path,
    faults,
    setNow: (at) => {
      now = at;
    },
  };
}
