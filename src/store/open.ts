import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { type Kysely, Migrator, sql } from 'kysely';
import { MIGRATIONS } from '../../migrations/index.js';
import { ServiceError } from '../errors.js';
import type { DerivedMark } from '../ports/derived.js';
import type { Store, Tx } from '../ports/store.js';
import type { Instant } from '../units.js';
import { VERSION } from '../version.js';
import { accountTable } from './accounts.js';
import { clockWordTable } from './clockWord.js';
import { copyTable } from './copies.js';
import type { Direct, Engine } from './engine.js';
import { factTable } from './facts.js';
import { fileTable } from './files.js';
import { heartbeatTable } from './heartbeats.js';
import { inboxTable } from './inbox.js';
import { KeptFacts, TxFacts } from './known/keptFacts.js';
import { leadTable } from './leads.js';
import { mailedTable } from './mailed.js';
import { contactTable, handleTable } from './names/contacts.js';
import { findTable } from './names/findWords.js';
import { mailTable, noticeTable } from './outbox.js';
import { postgresEngine } from './postgres.js';
import { readingTable } from './rides/readings.js';
import { rereadTable } from './rides/rereads.js';
import { rideTable } from './rides.js';
import { newId, newKey, nothingKnown, type Scope } from './scope.js';
import { sqliteEngine } from './sqlite.js';
import { standingTable } from './standings.js';
import { LostStore, throwStoreFault } from './storeFault.js';
import type { Tables } from './tables.js';
import { WORKER } from './worker.js';

const derivedMark = ({ db, workshopId }: Scope): DerivedMark => ({
  get: async () =>
    (await db.selectFrom('workshop').select('derived').where('id', '=', workshopId).executeTakeFirstOrThrow())
      .derived,
  isNewer: async () => {
    const { rows } = await sql<{ name: string }>`select name from kysely_migration`.execute(db);
    return rows.some(({ name }) => MIGRATIONS[name] === undefined);
  },
  set: async (derived) => {
    await db.updateTable('workshop').set({ derived }).where('id', '=', workshopId).execute();
  },
});

function txOf(scope: Scope): Tx {
  return {
    workshopId: scope.workshopId,
    facts: factTable(scope),
    handles: handleTable(scope),
    contacts: contactTable(scope),
    findWords: findTable(scope),
    files: fileTable(scope),
    readings: readingTable(scope),
    rides: rideTable(scope),
    standings: standingTable(scope),
    notices: noticeTable(scope),
    mails: mailTable(scope),
    leads: leadTable(scope),
    accounts: accountTable(scope),
    inbox: inboxTable(scope),
    heartbeats: heartbeatTable(scope),
    mailed: mailedTable(scope),
    clockWord: clockWordTable(scope),
    copies: copyTable(scope),
    derived: derivedMark(scope),
    rereads: rereadTable(scope),
  };
}

/** Whose rows of a store are meant, and from where. */
export interface Seat {
  /** One of the workshops in the store; the empty name where there is but one. */
  readonly workshop?: string;
  /** The data folder whose drop folder is scanned, by a name of its own; empty where there is but one. */
  readonly home?: string;
  /** False: a store, or a workshop in it, that is not there yet is not made. */
  readonly make?: boolean;
}

/** Whether a place is on a server, not a file. */
export const isServer = (place: string): boolean => /^postgres(ql)?:/.test(place);

/** Returns the database at a path or a `postgres:` address. Errors: `store-failed` where it cannot be opened. */
export function openEngine(place: string): Engine {
  if (isServer(place)) return postgresEngine(place);
  mkdirSync(dirname(place), { recursive: true });
  return sqliteEngine(place);
}

/**
 * Returns the store at a path or a `postgres:` address, made or brought up to date first.
 * Errors: `store-failed` when it cannot be opened or was made by a newer program; `refused` where there is none of that
 * workshop and none is to be made.
 */
export async function openStore(
  place: string,
  now: Instant,
  { workshop = '', home = '', make = true }: Seat = {},
): Promise<Store> {
  const engine = openEngine(place);
  try {
    await migrate(engine.writing).catch(throwStoreFault);
    const workshopId = await findWorkshop(engine.writing, workshop, make ? now : null).catch(throwStoreFault);
    const placeKey = await placeKeyOf(engine.writing, workshopId).catch(throwStoreFault);
    const writtenBy = await noteVersion(engine, workshopId).catch(throwStoreFault);
    const txIn = txMaker(engine, workshopId, home);
    const kept = new KeptFacts();
    return {
      placeKey,
      writtenBy,
      write: (work) =>
        engine
          .write(workshopId, async (db) =>
            within(engine.direct?.writing, async (direct) =>
              work(txIn(db, direct, new TxFacts(await engine.change(db), kept))),
            ),
          )
          .catch(throwStoreFault),
      read: (work) =>
        engine
          .read((db) => within(engine.direct?.reading, (direct) => work(txIn(db, direct))))
          .catch(throwStoreFault),
      integrity: () => engine.integrity().catch(throwStoreFault),
      close: () => engine.close(),
    };
  } catch (error) {
    await engine.close();
    throw error;
  }
}

/** What asks at once may not ask any more when its transaction is over. */
async function within<T>(ask: Direct | undefined, work: (direct: Direct | null) => Promise<T>): Promise<T> {
  if (ask === undefined) return work(null);
  let isOver = false;
  try {
    return await work((text, values) => {
      if (isOver) throw new Error('The transaction is over.');
      return ask(text, values);
    });
  } finally {
    isOver = true;
  }
}

const txMaker =
  ({ isShared, clockMs }: Engine, workshopId: string, home: string) =>
  (db: Scope['db'], direct: Direct | null = null, facts = new TxFacts()): Tx =>
    txOf({
      ...{ db, workshopId, home, worker: WORKER, isShared, direct, clockMs },
      ...{ facts, known: nothingKnown() },
    });

/** Returns one workshop's store as it is inside a transaction that is not over. */
export function storeIn(db: Scope['db'], engine: Engine, workshopId: string): Store {
  const tx = txMaker(engine, workshopId, '')(db);
  return {
    placeKey: '',
    writtenBy: null,
    write: (work) => work(tx),
    read: (work) => work(tx),
    integrity: async () => ({ integrityFaults: [], foreignKeyFaults: [] }),
    close: async () => {},
  };
}

export async function migrate(db: Kysely<Tables>): Promise<void> {
  const migrator = new Migrator({
    ...{ db, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } },
    // Two that were written side by side reach a store in either order, and a gap between them is filled.
    allowUnorderedMigrations: true,
  });
  const { error } = await migrator.migrateToLatest();
  if (!error) return;
  const isNewer = error instanceof Error && /^corrupted migrations: .* is missing$/.test(error.message);
  if (!isNewer) throwStoreFault(error);
  const maker = await lastVersion(db).catch(() => null);
  throw new LostStore(
    'store-failed',
    `The database was made by a newer Stanchion${maker === null || maker === VERSION ? '' : `, ${maker}`}: this is ${VERSION}.`,
    {
      hint: 'Update this program, or restore a backup made with this one: stanchion restore FILE',
      cause: error,
    },
  );
}

/** Of all workshops: the version that opened it last. */
const lastVersion = async (db: Kysely<Tables>): Promise<string | null> =>
  (await db.selectFrom('program_version').select('version').orderBy('since_ms', 'desc').executeTakeFirst())
    ?.version ?? null;

/** Writes down that this version opens the store, where another did before; returns which. */
async function noteVersion({ writing, clockMs }: Engine, workshopId: string): Promise<string | null> {
  const rows = await writing
    .selectFrom('program_version')
    .select('version')
    .where('workshop_id', '=', workshopId)
    .orderBy('since_ms', 'desc')
    .limit(2)
    .execute();
  const [last, before] = rows.map(({ version }) => version);
  if (last === VERSION) return before ?? null;
  await writing
    .insertInto('program_version')
    .values({ workshop_id: workshopId, since_ms: clockMs, version: VERSION })
    .onConflict((on) => on.doNothing())
    .execute();
  return last ?? null;
}

/** Of several that make one at once, one does. */
async function placeKeyOf(db: Kysely<Tables>, workshopId: string): Promise<string> {
  const own = () => db.selectFrom('workshop').select('place_key').where('id', '=', workshopId);
  const { place_key: kept } = await own().executeTakeFirstOrThrow();
  if (kept !== null) return kept;
  await db
    .updateTable('workshop')
    .set({ place_key: newKey() })
    .where('id', '=', workshopId)
    .where('place_key', 'is', null)
    .execute();
  return (await own().executeTakeFirstOrThrow()).place_key!;
}

/** Of several that make the same workshop at once, one does. */
async function findWorkshop(db: Kysely<Tables>, slug: string, madeAt: Instant | null): Promise<string> {
  const found = await db.selectFrom('workshop').select('id').where('slug', '=', slug).executeTakeFirst();
  if (found) return found.id;
  if (madeAt === null)
    throw new ServiceError('refused', 'There is no ledger of this workshop yet.', {
      hint: 'Make one with: stanchion setup. STANCHION_WORKSHOP names which workshop of a store is meant.',
    });
  await db
    .insertInto('workshop')
    .values({ id: newId(), slug, created_at_ms: madeAt })
    .onConflict((on) => on.doNothing())
    .execute();
  const { id } = await db
    .selectFrom('workshop')
    .select('id')
    .where('slug', '=', slug)
    .executeTakeFirstOrThrow();
  return id;
}
