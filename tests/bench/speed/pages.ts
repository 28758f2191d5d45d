import { randomUUID } from 'node:crypto';
/**
 * What Today, Due, a unit's page and the lists cost against the queries that they need, and against themselves in a workshop
 * of a hundredth of the units. A page's queries are those that it asked the database, asked again without the page.
 */
import SQLite from 'better-sqlite3';
import { addDays, dayOf } from '../../../src/core/days/calendar.js';
import { arrive } from '../../../src/flow/facts/jobs.js';
import { LinkMaker } from '../../../src/flow/mail/links.js';
import { putVisit } from '../../../src/flow/plan/bookings.js';
import { calendarFeed } from '../../../src/mail/calendar.js';
import type { Store } from '../../../src/ports/store.js';
import { sealWith } from '../../../src/secret.js';
import { openStore } from '../../../src/store/open.js';
import { createApp } from '../../../src/web/app.js';
import { openSession } from '../../../src/web/signIn/session.js';
import { filePorts } from '../../fixtures/filePorts.js';
import { type Asked, statementsAskedBy } from './askedStatements.js';
import type { Figure } from './figure.js';
import { NOW } from './ledgers.js';
import { inTurns } from './timing.js';

const SECRET = Buffer.alloc(32, 7);
const RUNS = 9;
/** These take no more than so many times as long as their queries; the others are told beside them. */
const MOST = 3;
const HELD = new Set(['Today', 'Due', 'Due, page 100', 'a unit', 'the unit ridden most']);

/** The address of the page of the rider who rode most, as a mail would give it. */
const ownPageOf = (store: Store): Promise<string> =>
  store.read(async (tx) => {
    const contact = await tx.contacts.find((await tx.handles.find('rider', 'r-most'))!);
    const links = { publicUrl: '', seal: sealWith(SECRET), isOneClick: false };
    return new LinkMaker(links, tx.workshopId, contact!, NOW).own('page');
  });

/** A page of a workshop with the most units takes at most so many times as long as of one with the fewest. */
const MOST_GROWTH = 3;
const GROW = new Set([
  ...['Today', 'Due', 'a unit', 'a rider’s own page', 'Bench', 'a fleet', 'Units', 'Riders', 'Tray', 'Mails'],
  ...['find a number', 'find what many share', 'a rider’s page', 'a service page', 'a unit’s card'],
]);
/** One rider asks for a day, and one has a day, for so many units. */
const UNITS_A_DAY = 40;
/** So many units are at the workshop: what fits into the house, whatever its customers have. */
const JOBS = 12;

/** Returns the figures of the pages of a filled ledger with so many units. */
export async function pageFigures(path: string, units: number, runs = RUNS): Promise<Figure[]> {
  const store = await openStore(path, NOW);
  await askForDays(store, units);
  const plain = new SQLite(path, { readonly: true });
  const get = await visitor(store);
  const figures: Figure[] = [];
  for (const [name, address] of Object.entries(await addressesOf(store, units))) {
    const queries = (await statementsAskedBy(() => get(address))).filter(({ sql }) =>
      /^\s*select/i.test(sql),
    );
    // The program too prepares a query when it is first asked.
    const ask = ({ sql, values }: Asked): unknown => plain.prepare(sql).all(...values);
    const [ours, other] = await inTurns(
      runs,
      () => get(address),
      () => queries.forEach(ask),
    );
    figures.push({
      what: name,
      ours,
      against: `its ${queries.length} queries`,
      other,
      unit: 'ms',
      ...(HELD.has(name) ? { most: MOST, aim: MOST } : {}),
    });
  }
  plain.close();
  await store.close();
  return figures;
}

export interface FilledLedger {
  readonly path: string;
  readonly units: number;
}

/** Returns how pages grow from a workshop of so few units to one of so many, of both of which `pageFigures` were taken. */
export async function pageGrowth(few: FilledLedger, many: FilledLedger, runs = RUNS): Promise<Figure[]> {
  const sides = [];
  for (const { path, units } of [few, many]) {
    const store = await openStore(path, NOW);
    sides.push({ store, get: await visitor(store), addresses: await addressesOf(store, units) });
  }
  const [small, large] = sides as [(typeof sides)[0], (typeof sides)[0]];
  const figures: Figure[] = [];
  for (const what of Object.keys(large.addresses)) {
    const [ours, other] = await inTurns(
      runs,
      () => large.get(large.addresses[what]!),
      () => small.get(small.addresses[what]!),
    );
    figures.push({
      what: `${what}, ${many.units} units`,
      ours,
      against: `with ${few.units}`,
      other,
      unit: 'ms',
      ...(GROW.has(what) ? { most: MOST_GROWTH, aim: MOST_GROWTH } : {}),
    });
  }
  for (const { store } of sides) await store.close();
  return figures;
}

/** As riders and technicians do; the filled ledger has no such word of theirs. */
async function askForDays(store: Store, units: number): Promise<void> {
  await store.write(async (tx) => {
    const unitIds = [...(await tx.handles.all('unit')).keys()].sort();
    const entry = { by: 'bench', at: NOW };
    for (let i = 0; i < JOBS; i += 1) await arrive(tx, unitIds.pop()!, { wish: 'as usual' }, entry);
    for (let i = 0; i < Math.ceil(units / UNITS_A_DAY); i += 1)
      for (const state of ['asked-for', 'booked'] as const) {
        const unitId = unitIds.pop()!;
        const day = addDays(dayOf(NOW, 'Etc/UTC'), 3 + (i % 20));
        const visit = { units: [{ unitId, jobs: ['lower-leg'] }], day };
        await putVisit(tx, visit, state, { by: 'bench', at: NOW }, { uuid: randomUUID });
      }
  });
}

async function addressesOf(store: Store, units: number): Promise<Readonly<Record<string, string>>> {
  return {
    Today: '/',
    Due: '/due',
    'Due, page 100': '/due?page=100',
    'a unit': `/units/F-${Math.floor(units * 0.4321)}`,
    'the unit ridden most': '/units/F-most',
    Bench: '/bench',
    Tray: '/tray',
    'a fleet': '/fleets/t1',
    Units: '/units',
    Riders: '/riders',
    Mails: '/mails',
    'find a number': `/find?q=${Math.floor(units * 0.4321)}`,
    'find what many share': '/find?q=rider',
    'a rider’s page': `/riders/r-${Math.floor(units * 0.4321)}`,
    'a service page': `/units/F-${Math.floor(units * 0.4321)}/service`,
    'a unit’s card': `/units/F-${Math.floor(units * 0.4321)}/card`,
    'a rider’s own page': await ownPageOf(store),
  };
}

/** Returns what gets a page's text as the owner. */
async function visitor(store: Store): Promise<(address: string) => Promise<string>> {
  const token = await store.write(async (tx) => {
    const account = { name: 'owner', passwordHash: '', role: 'owner' } as const;
    const { id } = (await tx.accounts.findByName('owner')) ?? (await tx.accounts.add(account));
    return openSession(tx, id, NOW);
  });
  const log = {
    info: () => undefined,
    error: (what: unknown) => process.stderr.write(`${JSON.stringify(what)}\n`),
  };
  const app = createApp({
    ...{ store, log, publicUrl: null, secret: SECRET, restDays: 3, trustedProxy: [], metricsSecret: null },
    clock: { now: () => NOW },
    ids: { uuid: () => crypto.randomUUID() },
    rider: { ids: { uuid: () => 'x' }, seal: sealWith(SECRET), feed: calendarFeed, ...filePorts() },
  });
  return async (address) => {
    const response = await app.request(`http://localhost${address}`, {
      headers: { cookie: `session=${token}` },
    });
    if (response.status !== 200) throw new Error(`${address} was answered with ${response.status}`);
    return response.text();
  };
}
