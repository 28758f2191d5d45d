import type { PlaceMarks } from '../core/ground/samples/placeMarks.js';
import type { Reading } from '../core/ground/samples/reading.js';
import type { Arrival, FileRow, FileTable } from '../ports/files.js';
import type { ReadingRow, ReadingTable } from '../ports/readings.js';
import { instant } from '../units.js';
import { chunked, newId, type Scope } from './scope.js';
import type { Tables } from './tables.js';

const fileOf = (row: Tables['file']): FileRow => ({
  id: row.id,
  sha256: row.sha256,
  bytes: row.bytes,
  riderId: row.rider_id,
  outcome: row.outcome as FileRow['outcome'],
  code: row.code,
  reason: row.reason,
});

export function fileTable({ db, workshopId }: Scope): FileTable {
  const all = () => db.selectFrom('file').selectAll().where('workshop_id', '=', workshopId).orderBy('id');
  const cameIn = (since: number) =>
    db
      .selectFrom('arrival')
      .innerJoin('file', 'file.id', 'arrival.file_id')
      .where('arrival.workshop_id', '=', workshopId)
      .where('arrived_at_ms', '>=', since);
  const idsOfRider = (riderId: string) =>
    db
      .selectFrom('file')
      .select('file.id')
      .where('file.workshop_id', '=', workshopId)
      .where('file.rider_id', '=', riderId)
      .union(
        db
          .selectFrom('reading')
          .innerJoin('ride_reading', 'ride_reading.reading_id', 'reading.id')
          .innerJoin('ride', 'ride.id', 'ride_reading.ride_id')
          .select('reading.file_id as id')
          .where('ride.workshop_id', '=', workshopId)
          .where('ride.rider_id', '=', riderId)
          .where('reading.file_id', 'in', db.selectFrom('file').select('id').where('rider_id', 'is', null)),
      );
  return {
    listCameIn: async (since, most) => {
      const rows = await cameIn(since)
        .select([
          'arrived_at_ms',
          'name',
          'file.id as file_id',
          'file.rider_id',
          'arrival.rider_id as handed_by',
          'arrival.bike_id',
          'outcome',
          'code',
        ])
        .orderBy('arrived_at_ms', 'desc')
        .orderBy('arrival.id')
        .limit(most)
        .execute();
      return rows.map((row) => ({
        at: instant(row.arrived_at_ms),
        fileId: row.file_id,
        name: row.name,
        riderId: row.rider_id ?? row.handed_by,
        bikeId: row.bike_id,
        outcome: row.outcome as FileRow['outcome'],
        code: row.code,
      }));
    },
    countCameIn: async (since) => {
      const rows = await cameIn(since)
        .select((of) => ['outcome', of.fn.countAll<number>().as('count')])
        .groupBy('outcome')
        .execute();
      return Object.fromEntries(rows.map(({ outcome, count }) => [outcome, Number(count)]));
    },
    list: async (sha256) => (await all().where('sha256', '=', sha256).execute()).map(fileOf),
    listOfRider: async (riderId) =>
      (await all().where('id', 'in', idsOfRider(riderId)).execute()).map(fileOf),
    renameArrivals: async (riderId, name) => {
      await db
        .updateTable('arrival')
        .set({ name })
        .where('workshop_id', '=', workshopId)
        .where('file_id', 'in', idsOfRider(riderId))
        .execute();
    },
    add: async (file) => {
      const id = newId();
      await db
        .insertInto('file')
        .values({
          workshop_id: workshopId,
          id,
          sha256: file.sha256,
          bytes: file.bytes,
          rider_id: file.riderId,
          outcome: file.outcome,
          code: file.code,
          reason: file.reason,
        })
        .execute();
      return { ...file, id };
    },
    addArrival: async (arrival) => {
      await db
        .insertInto('arrival')
        .values({
          workshop_id: workshopId,
          id: newId(),
          file_id: arrival.fileId,
          name: arrival.name,
          rider_id: arrival.riderId,
          bike_id: arrival.bikeId,
          rule: arrival.rule,
          way: arrival.way,
          arrived_at_ms: arrival.at,
          after_fact: arrival.afterFact,
        })
        .execute();
    },
    listHashesBefore: async (at) => {
      const rows = await db
        .selectFrom('file')
        .innerJoin('arrival', 'arrival.file_id', 'file.id')
        .select('file.sha256')
        .where('file.workshop_id', '=', workshopId)
        .groupBy('file.sha256')
        .having((of) => of.fn.max('arrival.arrived_at_ms'), '<', at)
        .execute();
      return rows.map((row) => row.sha256);
    },
    listArrivals: async (fileIds) => {
      const arrivals: Arrival[] = [];
      for (const some of chunked(fileIds)) {
        const rows = await db
          .selectFrom('arrival')
          .selectAll()
          .where('workshop_id', '=', workshopId)
          .where('file_id', 'in', some)
          .orderBy('arrived_at_ms')
          .orderBy('after_fact')
          .orderBy('id')
          .execute();
        for (const row of rows) {
          arrivals.push({
            fileId: row.file_id,
            name: row.name,
            riderId: row.rider_id,
            bikeId: row.bike_id,
            rule: row.rule as Arrival['rule'],
            way: row.way as Arrival['way'],
            at: instant(row.arrived_at_ms),
            afterFact: row.after_fact,
          });
        }
      }
      return arrivals;
    },
  };
}

/** The sensors that may tell the bike, each once. */
export const bikeSensors = ({ sensors }: Pick<Reading, 'sensors'>): Set<string> =>
  new Set(sensors.filter((sensor) => sensor.boundTo !== 'rider').map((sensor) => sensor.id));

interface ReadRow {
  readonly id: string;
  readonly file_id: string;
  readonly part: number;
  readonly body: string;
  readonly outcome: string | null;
}

const readingOf = (row: ReadRow): ReadingRow => ({
  id: row.id,
  fileId: row.file_id,
  part: row.part,
  // What a former reader did not know of.
  reading: { recorder: null, ...JSON.parse(row.body) } as Reading,
  leftAs: row.outcome === 'lost' || row.outcome === 'kept' ? row.outcome : null,
});

export function readingTable({ db, workshopId, readings }: Scope): ReadingTable {
  const all = () =>
    db
      .selectFrom('reading')
      .select(['reading.id', 'file_id', 'part'])
      .select((of) => {
        const again = of
          .selectFrom('reading_again')
          .whereRef('reading_id', '=', 'reading.id')
          .orderBy('nth', 'desc')
          .limit(1);
        const anew = again.select('reading_again.body').where('reading_again.body', 'is not', null);
        return [
          of.fn.coalesce(anew, 'reading.body').$castTo<string>().as('body'),
          again.select('outcome').as('outcome'),
        ];
      })
      .where('reading.workshop_id', '=', workshopId);
  const putMarks = async (readingId: string, marks: PlaceMarks): Promise<void> => {
    const { key, recorder, fromMinute, cells } = marks;
    const said = { key_id: key, recorder, from_minute: fromMinute, cells };
    await db
      .insertInto('reading_mark')
      .values({ workshop_id: workshopId, reading_id: readingId, ...said })
      .onConflict((on) => on.column('reading_id').doUpdateSet(said))
      .execute();
  };
  return {
    putMarks,
    add: async (fileId, part, reading) => {
      const id = newId();
      const { marks, ...rest } = reading;
      const body = JSON.stringify(rest);
      readings.forget();
      await db
        .insertInto('reading')
        .values({
          ...{ workshop_id: workshopId, id, file_id: fileId, part, body },
          reader_version: reading.readerVersion,
        })
        .execute();
      for (const sensor_id of bikeSensors(reading)) {
        await db
          .insertInto('reading_sensor')
          .values({ workshop_id: workshopId, reading_id: id, sensor_id })
          .execute();
      }
      if (marks !== undefined) await putMarks(id, marks);
      return { id, fileId, part, reading: rest, leftAs: null };
    },
    listOfFile: async (fileId) =>
      (await all().where('file_id', '=', fileId).orderBy('part').execute()).map(readingOf),
    getMany: async (ids) => {
      const found: ReadingRow[] = [];
      for (const some of chunked([...new Set(ids)].sort()))
        found.push(
          ...(await readings.answer(some.join(), async () =>
            (await all().where('reading.id', 'in', some).execute()).map(readingOf),
          )),
        );
      return found;
    },
    listMarks: async (ids) => {
      const found = new Map<string, PlaceMarks>();
      for (const some of chunked(ids))
        for (const row of await db
          .selectFrom('reading_mark')
          .selectAll()
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .execute())
          found.set(row.reading_id, {
            key: row.key_id,
            recorder: row.recorder,
            fromMinute: row.from_minute,
            cells: row.cells,
          });
      return found;
    },
    removePlaces: async (ids) => {
      for (const some of chunked(ids)) {
        await db
          .updateTable('reading_mark')
          .set({ from_minute: 0, cells: '' })
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .where('recorder', 'is not', null)
          .execute();
        await db
          .deleteFrom('reading_mark')
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .where('recorder', 'is', null)
          .execute();
      }
    },
    removeMarks: async (ids) => {
      for (const some of chunked(ids))
        await db
          .deleteFrom('reading_mark')
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .execute();
    },
    listIds: async () =>
      (await db.selectFrom('reading').select('id').where('workshop_id', '=', workshopId).execute()).map(
        (row) => row.id,
      ),
  };
}
