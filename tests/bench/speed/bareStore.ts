/**
 * What the least store that is right would ask for the same rides: each statement prepared once, the rows made beforehand,
 * in one transaction. It looks whether the content is known, adds its rows, asks what lies near, and puts where the units
 * stand in the place of where they stood; what it must know of bikes and units it reads once.
 */
import SQLite from 'better-sqlite3';
import { processorOf } from './timing.js';

type Row = Readonly<Record<string, unknown>>;

/** The rows that one ride is. */
interface RideRows {
  readonly file: Row;
  readonly arrival: Row;
  readonly readings: readonly Row[];
  readonly marks: readonly Row[];
  readonly sensors: readonly Row[];
  readonly ride: Row;
  readonly parts: readonly Row[];
}

export interface StoredRows {
  readonly rides: readonly RideRows[];
  readonly standings: readonly Row[];
}

/** A day and what clocks may be wrong by. Units: milliseconds. */
const REACH_MS = 15.1 * 3_600_000;

/** Returns the rows that a store holds of these contents, and where the units on their bikes stand. */
export function storedRows(path: string, contents: readonly string[]): StoredRows {
  const database = new SQLite(path, { readonly: true });
  const all = (sql: string, ...values: readonly unknown[]): Row[] =>
    database.prepare(sql).all(...values) as Row[];
  const rides = contents.map((sha256): RideRows => {
    const [file] = all('select * from file where sha256 = ?', sha256);
    const readings = all('select * from reading where file_id = ?', file!.id);
    const of = (table: string): Row[] =>
      readings.flatMap(({ id }) => all(`select * from ${table} where reading_id = ?`, id));
    const parts = of('ride_reading');
    const [ride] = all('select * from ride where id = ?', parts[0]!.ride_id);
    const [arrival] = all('select * from arrival where file_id = ?', file!.id);
    return {
      ...{ file: file!, arrival: arrival!, readings, parts, ride: ride! },
      ...{ marks: of('reading_mark'), sensors: of('reading_sensor') },
    };
  });
  const bikeIds = [...new Set(rides.map(({ ride }) => ride.bike_id))];
  const standings = bikeIds.flatMap((id) =>
    all(
      "select * from standing where unit_id in (select subject_id from fact where kind = 'fitting' and object_id = ?)",
      id,
    ),
  );
  database.close();
  return { rides, standings };
}

/** Returns what the statements take in a store at a path, after as many before them. Units: milliseconds of the processor. */
export async function bareMs(path: string, before: readonly StoredRows[], rows: StoredRows): Promise<number> {
  const database = new SQLite(path);
  for (const setting of ['journal_mode = WAL', 'synchronous = FULL', 'foreign_keys = ON'])
    database.pragma(setting);
  const statements = new Map<string, SQLite.Statement>();
  const prepared = (sql: string): SQLite.Statement => {
    const statement = statements.get(sql) ?? database.prepare(sql);
    statements.set(sql, statement);
    return statement;
  };
  const add = (table: string, row: Row): void => {
    const columns = Object.keys(row);
    const marks = columns.map(() => '?').join();
    prepared(`insert into ${table} (${columns.join()}) values (${marks})`).run(Object.values(row));
  };
  const store = database.transaction(({ rides, standings }: StoredRows) => {
    for (const ride of rides) addRide(ride);
    const unitIds = [...new Set(standings.map((row) => row.unit_id))];
    const bikeIds = [...new Set(rides.map(({ ride }) => ride.bike_id))];
    const [{ workshop_id: workshopId }] = standings as [Row];
    for (const id of [...unitIds, ...bikeIds])
      for (const column of ['subject_id', 'object_id'])
        prepared(`select * from fact where workshop_id = ? and ${column} = ?`).all(workshopId, id);
    for (const id of bikeIds)
      prepared(
        `select id, started_at_ms, moving_s, ground_ms from ride
         where workshop_id = ? and counts = 1 and bike_id = ? order by started_at_ms`,
      ).all(workshopId, id);
    for (const id of unitIds) {
      prepared('select * from standing where workshop_id = ? and unit_id = ?').all(workshopId, id);
      prepared('delete from standing where workshop_id = ? and unit_id = ?').run(workshopId, id);
    }
    for (const row of standings) add('standing', row);
  });
  const addRide = ({ file, arrival, readings, marks, sensors, ride, parts }: RideRows): void => {
    prepared('select * from file where workshop_id = ? and sha256 = ?').all(file.workshop_id, file.sha256);
    add('file', file);
    add('arrival', arrival);
    for (const row of readings) add('reading', row);
    for (const row of marks) add('reading_mark', row);
    for (const row of sensors) add('reading_sensor', row);
    for (const column of ['rider_id', 'bike_id'])
      prepared(
        `select reading_id, ride_id from ride_reading
         where workshop_id = ? and ${column} = ? and started_at_ms <= ? and ended_at_ms >= ?`,
      ).all(
        ride.workshop_id,
        ride[column],
        Number(ride.ended_at_ms) + REACH_MS,
        Number(ride.started_at_ms) - REACH_MS,
      );
    add('ride', ride);
    for (const row of parts) add('ride_reading', row);
  };
  for (const some of before) store(some);
  const ms = await processorOf(() => store(rows));
  database.close();
  return ms;
}
