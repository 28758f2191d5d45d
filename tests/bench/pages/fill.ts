/** A workshop of ten thousand units and a million rides: a few are made by the program itself, the rest are copies of their rows. */
import SQLite from 'better-sqlite3';
import { readDocument } from '../../../src/cli/importSchema.js';
import { addDays, dayOf } from '../../../src/core/calendar.js';
import { importLedger } from '../../../src/flow/importLedger.js';
import { refreshAllDue } from '../../../src/flow/refreshDue.js';
import { openStore } from '../../../src/store/open.js';
import { DAY_MS, type Instant } from '../../../src/units.js';

export interface Size {
  readonly units: number;
  readonly ridesABike: number;
}

/** Rides a week and bikes as different as to give every state. */
const PATTERNS = [0.5, 1, 2, 3].map((hours, i) => ({ hours, handle: `p${i}`, fleet: null as string | null }));
/** A bike that was ridden more than any other, and a team's; there is one each of these. */
const RIDDEN_MOST = { hours: 1, handle: 'most', fleet: null };
const TEAM = Array.from({ length: 12 }, (_, i) => ({ hours: 1, handle: `team${i}`, fleet: 't1' }));
const SEEDS = [...PATTERNS, RIDDEN_MOST, ...TEAM];
const MOST_RIDES = 1000;

function seedDocument(now: Instant) {
  const today = dayOf(now, 'Etc/UTC');
  const unit = ({ handle }: (typeof SEEDS)[number], i: number) => ({
    tag: `F-${handle}`,
    unitKind: 'fork',
    model: 'Sample fork',
    history: i === 3 ? 'unknown' : 'new',
  });
  return {
    workshop: {
      id: 'w1',
      name: 'Bench of many',
      timeZone: 'Etc/UTC',
      openDays: ['tue', 'wed', 'thu', 'fri'],
    },
    fleets: [{ id: 't1', name: 'Team of many' }],
    riders: SEEDS.map(({ handle }) => ({
      id: `r-${handle}`,
      name: `Rider ${handle}`,
      email: `${handle}@example.org`,
      language: 'en',
      addressConfirmed: true,
    })),
    bikes: SEEDS.map(({ handle, fleet }) => ({
      id: `b-${handle}`,
      rider: `r-${handle}`,
      fleet,
      name: `Bike ${handle}`,
      type: 'trail',
    })),
    units: SEEDS.map(unit),
    fittings: SEEDS.map(({ handle }) => ({
      unit: `F-${handle}`,
      bike: `b-${handle}`,
      from: addDays(today, -740),
    })),
    hours: SEEDS.flatMap(({ handle, hours }) =>
      Array.from({ length: 20 }, (_, week) => ({
        bike: `b-${handle}`,
        on: addDays(today, -2 - 7 * week),
        minutes: hours * 60,
        ground: 'typical',
      })),
    ),
  };
}

type Row = Record<string, unknown>;

const UNIT_TABLES = ['fact', 'handle', 'contact', 'standing'] as const;

/** Fills a database at a path. */
export async function fill(path: string, now: Instant, size: Size): Promise<void> {
  const store = await openStore(path, now);
  const read = readDocument(seedDocument(now));
  if (!('document' in read)) throw new Error(JSON.stringify(read));
  await store.write((tx) => importLedger(tx, read.document, { by: 'bench', at: now }));
  await refreshAllDue({ store, clock: { now: () => now } });
  await store.close();
  const database = new SQLite(path);
  database.pragma('synchronous = OFF');
  const patterns = PATTERNS.map(({ handle }) => patternOf(database, handle));
  database.transaction(() => {
    for (let i = 0; i < size.units; i += 1) {
      const pattern = patterns[i % patterns.length]!;
      const isCopy = i >= patterns.length;
      if (isCopy) copyUnit(database, pattern, i);
      copyRides(database, pattern, { now, i, isCopy, rides: size.ridesABike });
    }
    const most = patternOf(database, RIDDEN_MOST.handle);
    copyRides(database, most, { now, i: size.units, isCopy: false, rides: MOST_RIDES });
  })();
  inserts.clear();
  database.close();
}

/** All rows about one unit, its bike and its rider, read once. */
interface Pattern {
  readonly unitId: string;
  readonly bikeId: string;
  readonly riderId: string;
  readonly rows: readonly { readonly table: (typeof UNIT_TABLES)[number]; readonly row: Row }[];
  readonly ride: Row;
}

function patternOf(database: SQLite.Database, handle: string): Pattern {
  const [unitId, bikeId, riderId] = ['F-', 'b-', 'r-'].map((prefix) =>
    database
      .prepare('select entity_id from handle where handle = ?')
      .pluck()
      .get(prefix + handle),
  ) as [string, string, string];
  const rows = UNIT_TABLES.flatMap((table) =>
    rowsOf(database, table, [unitId, bikeId, riderId]).map((row) => ({ table, row })),
  );
  const ride = database.prepare('select * from ride where bike_id = ? limit 1').get(bikeId) as Row;
  return { unitId, bikeId, riderId, rows, ride };
}

const fresh = (id: string, i: number): string => `${id.slice(0, 6)}${String(i).padStart(6, '0')}`;

/** Copies every row of a pattern's unit, bike and rider, with other ids. */
function copyUnit(database: SQLite.Database, { unitId, bikeId, riderId, rows }: Pattern, i: number): void {
  const swap = (text: unknown): unknown =>
    typeof text !== 'string'
      ? text
      : [unitId, bikeId, riderId]
          .reduce((all, id) => all.replaceAll(id, fresh(id, i)), text)
          .replace(/^((?:F|b|r)-)?p\d(@|$)/, (_, prefix = '', end: string) => `${prefix}${i}${end}`)
          .replaceAll(/"((?:F|b|r)-)p\d"/g, (_, prefix: string) => `"${prefix}${i}"`)
          .replaceAll(/(Bike|Rider) p\d/g, (_, what: string) => `${what} ${i}`);
  for (const { table, row } of rows) {
    const copy = Object.fromEntries(Object.entries(row).map(([name, value]) => [name, swap(value)]));
    if (table === 'fact') {
      delete copy.seq;
      copy.id = fresh(String(row.id), i);
    }
    if (table === 'contact') copy.address_id = fresh(String(row.address_id), i);
    insert(database, table, copy);
  }
}

function rowsOf(database: SQLite.Database, table: (typeof UNIT_TABLES)[number], ids: string[]): Row[] {
  const marks = ids.map(() => '?').join();
  const where = {
    fact: `kind in ('unit', 'bike', 'fitting') and subject_id in (${marks})`,
    handle: `entity_id in (${marks})`,
    contact: `rider_id in (${marks})`,
    standing: `unit_id in (${marks})`,
  }[table];
  return database.prepare(`select * from ${table} where ${where}`).all(...ids) as Row[];
}

const inserts = new Map<string, SQLite.Statement>();

function insert(database: SQLite.Database, table: string, row: Row): void {
  const names = Object.keys(row);
  const key = `${table} ${names.join()}`;
  const statement =
    inserts.get(key) ??
    database.prepare(
      `insert into ${table} (${names.join()}) values (${names.map((name) => `@${name}`).join()})`,
    );
  inserts.set(key, statement);
  statement.run(row);
}

/** A bike's rides over two years, each a copy of one of the pattern's. */
function copyRides(
  database: SQLite.Database,
  { bikeId, riderId, ride: seed }: Pattern,
  of: { readonly now: Instant; readonly i: number; readonly isCopy: boolean; readonly rides: number },
): void {
  const { now, i, isCopy, rides } = of;
  const [bike, rider] = isCopy ? [fresh(bikeId, i), fresh(riderId, i)] : [bikeId, riderId];
  const length = Number(seed.ended_at_ms) - Number(seed.started_at_ms);
  for (let ride = 0; ride < rides; ride += 1) {
    const startedAt = now - Math.round(((ride + 0.5 + (i % 7) / 10) * 730 * DAY_MS) / rides);
    const id = `q${String(i).padStart(6, '0')}${String(ride).padStart(5, '0')}`;
    const body = String(seed.body)
      .replaceAll(String(seed.id), id)
      .replaceAll(bikeId, bike)
      .replaceAll(riderId, rider)
      .replaceAll(String(seed.started_at_ms), String(startedAt))
      .replaceAll(String(seed.ended_at_ms), String(startedAt + length));
    insert(database, 'ride', {
      ...seed,
      ...{ id, bike_id: bike, rider_id: seed.rider_id === null ? null : rider, body },
      ...{ started_at_ms: startedAt, ended_at_ms: startedAt + length },
    });
  }
}
