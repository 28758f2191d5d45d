/**
 * A workshop of ten thousand units and a million recorded rides. A few rides are taken by the program itself from files of
 * its own formats; the rest are their rows again, under other names and at other times. `check` finds no difference in it.
 */
import SQLite from 'better-sqlite3';
import { readDocument } from '../../../src/cli/importSchema.js';
import { addDays, dayOf } from '../../../src/core/days/calendar.js';
import { importLedger } from '../../../src/flow/carry/importLedger.js';
import { ingestFile } from '../../../src/flow/take/ingestFile.js';
import type { Store } from '../../../src/ports/store.js';
import { openStore } from '../../../src/store/open.js';
import { DAY_MS, HOUR_MS, type Instant, instant } from '../../../src/units.js';
import { filePorts } from '../../fixtures/filePorts.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';

export interface Size {
  readonly units: number;
  readonly ridesABike: number;
}

/** Hours a ride, so that after two years the units stand in states of all sorts. */
const PATTERNS = [0.1, 0.25, 0.5, 1].map((hours, i) => ({
  hours,
  handle: `p${i}`,
  fleet: null as string | null,
}));
/** A bike that was ridden more than any other, and a team's; there is one each of these. */
const RIDDEN_MOST = { hours: 0.1, handle: 'most', fleet: null };
const TEAM = Array.from({ length: 12 }, (_, i) => ({ hours: 0.5, handle: `team${i}`, fleet: 't1' }));
const SEEDS = [...PATTERNS, RIDDEN_MOST, ...TEAM];
const MOST_RIDES = 1000;
/** One ride waits for a person's word for so many units. */
const UNITS_AN_ASKING = 20;
/** Files in the drop folder for each unit, of which one in so many could not be used. */
const DROPPED = 5;
const DROPPED_ASIDE = 50;
const SPAN_DAYS = 730;
/** So long after a ride its file comes. */
const HANDED_OVER_MS = 3 * HOUR_MS;

function seedDocument(now: Instant) {
  const today = dayOf(now, 'Etc/UTC');
  return {
    workshop: {
      id: 'w1',
      name: 'Bench of many',
      timeZone: 'Etc/UTC',
      openDays: ['tue', 'wed', 'thu', 'fri'],
      remindersFrom: '2020-01-01',
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
      rider: fleet === null ? `r-${handle}` : null,
      fleet,
      name: `Bike ${handle}`,
      type: 'trail',
    })),
    units: SEEDS.map(({ handle }, i) => ({
      tag: `F-${handle}`,
      unitKind: 'fork',
      model: 'Sample fork',
      history: i === 3 ? 'unknown' : 'new',
    })),
    fittings: SEEDS.map(({ handle }) => ({
      unit: `F-${handle}`,
      bike: `b-${handle}`,
      from: addDays(today, -SPAN_DAYS - 10),
    })),
  };
}

/** Fills a database at a path. Forecasts are left to be made. */
export async function fill(path: string, now: Instant, size: Size): Promise<void> {
  const store = await openStore(path, now);
  const read = readDocument(seedDocument(now));
  if (!('document' in read)) throw new Error(JSON.stringify(read));
  await store.write((tx) => importLedger(tx, read.document, { by: 'bench', at: now }));
  for (const [i, seed] of SEEDS.entries())
    await takeRide(store, seed, instant(now - DAY_MS * (1 + i / 100)), now);
  await takeRide(store, { hours: 0.3, handle: null }, instant(now - 2 * DAY_MS), now);
  await store.close();
  const database = new SQLite(path);
  database.pragma('synchronous = OFF');
  new Filler(database, now).fill(size);
  database.close();
  const filled = await openStore(path, now);
  await filled.write((tx) => tx.findWords.rebuild());
  await filled.close();
}

/** Takes one ride for a seed's bike, or for nobody, as the program does. */
async function takeRide(
  store: Store,
  { hours, handle }: { readonly hours: number; readonly handle: string | null },
  start: Instant,
  now: Instant,
): Promise<void> {
  const track = straightTrack(start, Math.round(hours * 3600) + 1);
  const bytes = textBytes(gpxText([{ type: 'cycling', segments: [track] }]));
  const bikeId =
    handle === null ? null : await store.read(async (tx) => (await tx.handles.find('bike', `b-${handle}`))!);
  const deps = { ...filePorts(), store, clock: { now: () => now } };
  const rule = handle === null ? null : 'chosen';
  const taken = await ingestFile(deps, { name: `${handle}.gpx`, bytes, riderId: null, bikeId, rule });
  if (taken.outcome !== (handle === null ? 'ask' : 'counted'))
    throw new Error(`${taken.outcome}: ${taken.reason}`);
}

type Row = Record<string, unknown>;

const UNIT_TABLES = ['fact', 'handle', 'contact', 'standing'] as const;
const RIDE_TABLES = ['file', 'arrival', 'reading', 'ride', 'ride_reading'] as const;

/** All rows about one unit, its bike and its rider, and of one ride. */
interface Pattern {
  readonly unitId: string;
  readonly bikeId: string;
  readonly riderId: string;
  readonly rows: readonly { readonly table: (typeof UNIT_TABLES)[number]; readonly row: Row }[];
  readonly ride: Readonly<Record<(typeof RIDE_TABLES)[number], Row>>;
}

const fresh = (id: string, i: number): string => `${id.slice(0, 6)}${String(i).padStart(6, '0')}`;

class Filler {
  readonly #inserts = new Map<string, SQLite.Statement>();
  readonly #workshopId: unknown;

  constructor(
    readonly database: SQLite.Database,
    readonly now: Instant,
  ) {
    this.#workshopId = database.prepare('select id from workshop').pluck().get();
  }

  fill({ units, ridesABike }: Size): void {
    const patterns = PATTERNS.map(({ handle }) => this.#patternOf(handle));
    this.database.transaction(() => {
      for (let i = 0; i < units; i += 1) {
        const pattern = patterns[i % patterns.length]!;
        if (i >= patterns.length) this.#copyUnit(pattern, i);
        this.#copyRides(pattern, i, { isCopy: i >= patterns.length, rides: ridesABike });
        this.#drop(i);
      }
      this.#copyAsking(Math.ceil(units / UNITS_AN_ASKING));
      this.#copyRides(this.#patternOf(RIDDEN_MOST.handle), units, { isCopy: false, rides: MOST_RIDES });
      this.database.exec('update standing set stale = 1');
    })();
  }

  #patternOf(handle: string): Pattern {
    const [unitId, bikeId, riderId] = ['F-', 'b-', 'r-'].map((prefix) =>
      this.database
        .prepare('select entity_id from handle where handle = ?')
        .pluck()
        .get(prefix + handle),
    ) as [string, string, string];
    const ids = [unitId, bikeId, riderId];
    const marks = ids.map(() => '?').join();
    const where = {
      fact: `kind in ('unit', 'bike', 'fitting') and subject_id in (${marks})`,
      handle: `entity_id in (${marks})`,
      contact: `rider_id in (${marks})`,
      standing: `unit_id in (${marks})`,
    };
    const rows = UNIT_TABLES.flatMap((table) =>
      (this.database.prepare(`select * from ${table} where ${where[table]}`).all(...ids) as Row[]).map(
        (row) => ({ table, row }),
      ),
    );
    return { unitId, bikeId, riderId, rows, ride: this.#rideWhere('bike_id = ?', bikeId) };
  }

  #rideWhere(where: string, ...values: readonly string[]): Pattern['ride'] {
    const one = (sql: string, ...ids: readonly unknown[]): Row =>
      this.database.prepare(sql).get(...ids) as Row;
    const ride = one(`select * from ride where ${where}`, ...values);
    const part = one('select * from ride_reading where ride_id = ?', ride.id);
    const reading = one('select * from reading where id = ?', part.reading_id);
    const file = one('select * from file where id = ?', reading.file_id);
    const arrival = one('select * from arrival where file_id = ?', file.id);
    return { file, arrival, reading, ride, ride_reading: part };
  }

  #insert(table: string, row: Row): void {
    const names = Object.keys(row);
    const key = `${table} ${names.join()}`;
    const statement =
      this.#inserts.get(key) ??
      this.database.prepare(
        `insert into ${table} (${names.join()}) values (${names.map((name) => `@${name}`).join()})`,
      );
    this.#inserts.set(key, statement);
    statement.run(row);
  }

  /** Copies every row of a pattern's unit, bike and rider, with other ids. */
  #copyUnit({ unitId, bikeId, riderId, rows }: Pattern, i: number): void {
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
      this.#insert(table, copy);
    }
  }

  /** A bike's rides over two years. */
  #copyRides(pattern: Pattern, i: number, { isCopy, rides }: { isCopy: boolean; rides: number }): void {
    const bikeId = isCopy ? fresh(pattern.bikeId, i) : pattern.bikeId;
    const riderId = isCopy ? fresh(pattern.riderId, i) : pattern.riderId;
    for (let n = 0; n < rides; n += 1) {
      const start = this.now - Math.round(((n + 0.5 + (i % 7) / 10) * SPAN_DAYS * DAY_MS) / rides) - DAY_MS;
      const own = `${String(i).padStart(6, '0')}${String(n).padStart(5, '0')}`;
      this.#copyRide(pattern.ride, { own, start, bikeId, riderId });
    }
  }

  /** What was told of files in a rider's folder. */
  #drop(i: number): void {
    for (let n = 0; n < DROPPED; n += 1) {
      const isAside = (i * DROPPED + n) % DROPPED_ASIDE === 0;
      const told = isAside ? { outcome: 'set-aside', code: 'empty' } : { outcome: 'counted', code: null };
      this.#insert('inbox_file', {
        ...{ workshop_id: this.#workshopId, home: '', path: `r-${i}/b-${i}/${n}.fit`, bytes: 1, stamp: '' },
        ...{ modified_ms: 0, seen_at_ms: this.now, settled: 1, reason: null, said: null, ...told },
      });
    }
  }

  /** Rides of which nobody said whose they are. */
  #copyAsking(rides: number): void {
    const pattern = this.#rideWhere('question is not null');
    for (let n = 0; n < rides; n += 1) {
      const start = this.now - Math.round(((n + 0.5) * SPAN_DAYS * DAY_MS) / rides) - DAY_MS;
      this.#copyRide(pattern, {
        own: `who${String(n).padStart(8, '0')}`,
        start,
        bikeId: null,
        riderId: null,
      });
    }
  }

  /** A reading's profile and sketch are left out: they would be most of the disk. */
  #copyRide(
    { file, arrival, reading, ride, ride_reading: part }: Pattern['ride'],
    {
      own,
      start,
      bikeId,
      riderId,
    }: { own: string; start: number; bikeId: string | null; riderId: string | null },
  ): void {
    const said = JSON.parse(String(reading.body));
    const counted = JSON.parse(String(ride.body));
    const end = start + (said.end - said.start);
    const [fileId, readingId] = [`v${own}`, `q${own}`];
    const times = { start, end };
    const placed = { started_at_ms: start, ended_at_ms: end };
    this.#insert('file', { ...file, id: fileId, sha256: own });
    this.#insert('arrival', {
      ...{ ...arrival, id: `a${own}`, file_id: fileId, bike_id: bikeId },
      arrived_at_ms: end + HANDED_OVER_MS,
    });
    this.#insert('reading', {
      ...reading,
      id: readingId,
      file_id: fileId,
      body: JSON.stringify({ ...said, ...times, sketch: null }),
      profile: '[]',
    });
    this.#insert('ride', {
      ...ride,
      ...placed,
      id: readingId,
      rider_id: ride.rider_id === null ? null : riderId,
      bike_id: bikeId,
      body: JSON.stringify({
        ...counted,
        ...times,
        id: readingId,
        readingIds: [readingId],
        riderId: counted.riderId === null ? null : riderId,
        bikeId,
        day: dayOf(instant(start), 'Etc/UTC'),
      }),
    });
    this.#insert('ride_reading', {
      ...part,
      ...placed,
      reading_id: readingId,
      ride_id: readingId,
      rider_id: part.rider_id === null ? null : riderId,
      bike_id: part.bike_id === null ? null : bikeId,
      named_bike_id: part.named_bike_id === null ? null : bikeId,
      named_rider_id: part.named_rider_id === null ? null : riderId,
    });
  }
}
