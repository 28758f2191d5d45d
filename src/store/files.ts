import type { Arrival, FileRow, FileTable } from '../ports/files.js';
import { instant } from '../units.js';
import { ask, putRows } from './known/built.js';
import { type ArrivalRow, chunked, newId, type Scope } from './scope.js';
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

const arrivalOf = (row: Tables['arrival']): ArrivalRow => ({
  id: row.id,
  fileId: row.file_id,
  name: row.name,
  riderId: row.rider_id,
  bikeId: row.bike_id,
  rule: row.rule as Arrival['rule'],
  way: row.way as Arrival['way'],
  at: instant(row.arrived_at_ms),
  afterFact: row.after_fact,
});

const inOrder = (a: ArrivalRow, b: ArrivalRow): number =>
  a.at - b.at || a.afterFact - b.afterFact || (a.id < b.id ? -1 : 1);

export function fileTable(scope: Scope): FileTable {
  const { db, workshopId, known } = scope;
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
    list: async (sha256) =>
      (
        await ask(scope, 'files of a content', [workshopId, sha256], () => all().where('sha256', '=', sha256))
      ).map(fileOf),
    listOfRider: async (riderId) =>
      (await all().where('id', 'in', idsOfRider(riderId)).execute()).map(fileOf),
    renameArrivals: async (riderId, name) => {
      known.arrivals.forget();
      await db
        .updateTable('arrival')
        .set({ name })
        .where('workshop_id', '=', workshopId)
        .where('file_id', 'in', idsOfRider(riderId))
        .execute();
    },
    add: async (file) => {
      const id = newId();
      await putRows(scope, 'file', [
        {
          workshop_id: workshopId,
          id,
          sha256: file.sha256,
          bytes: file.bytes,
          rider_id: file.riderId,
          outcome: file.outcome,
          code: file.code,
          reason: file.reason,
        },
      ]);
      known.arrivals.set(id, []);
      return { ...file, id };
    },
    addArrival: async (arrival) => {
      const row = {
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
      };
      await putRows(scope, 'arrival', [row]);
      const there = known.arrivals.get(arrival.fileId);
      if (there) known.arrivals.set(arrival.fileId, [...there, arrivalOf(row)].sort(inOrder));
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
      const found = await known.arrivals.many(fileIds, async (missing) => {
        const read = new Map<string, ArrivalRow[]>(missing.map((id) => [id, []]));
        for (const some of chunked(missing)) {
          const rows = await ask(scope, `arrivals of ${some.length}`, [workshopId, ...some], () =>
            db
              .selectFrom('arrival')
              .selectAll()
              .where('workshop_id', '=', workshopId)
              .where('file_id', 'in', some),
          );
          for (const row of rows) read.get(row.file_id)!.push(arrivalOf(row));
        }
        for (const rows of read.values()) rows.sort(inOrder);
        return read;
      });
      return [...found.values()].flat().sort(inOrder);
    },
  };
}
