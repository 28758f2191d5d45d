import { type Selectable, sql } from 'kysely';
import type { RecorderUse } from '../core/rides/recorder.js';
import { isCounted } from '../core/rides/ride.js';
import type { CameBy, RidePart, RideRow, RideTable } from '../ports/rides.js';
import { instant, seconds, thousandths } from '../units.js';
import { ask, putRows } from './known/built.js';
import { askingTable } from './rides/askingRides.js';
import { chunked, type Scope } from './scope.js';
import type { Tables } from './tables.js';

const instantOrNull = (ms: number | null) => (ms === null ? null : instant(ms));

const partOf = (row: Selectable<Tables['ride_reading']>): RidePart => ({
  readingId: row.reading_id,
  rideId: row.ride_id,
  riderId: row.rider_id,
  bikeId: row.bike_id,
  start: instantOrNull(row.started_at_ms),
  end: instantOrNull(row.ended_at_ms),
  namedBikeId: row.named_bike_id,
  profile: row.profile,
  recorder: row.recorder,
  namedRiderId: row.named_rider_id,
});

export function rideTable(scope: Scope): RideTable {
  const { db, workshopId, known } = scope;
  const all = () => db.selectFrom('ride').select('body').where('ride.workshop_id', '=', workshopId);
  const rideOf = (row: { body: string }): RideRow => JSON.parse(row.body) as RideRow;
  const counted = () => all().where('counts', '=', 1).orderBy('started_at_ms').orderBy('id');

  /** Answers a question about where recordings went once, until one goes elsewhere. */
  const placed = async <Row>(
    question: readonly unknown[],
    read: () => Promise<Row[]>,
  ): Promise<readonly Row[]> => (await known.placed.one(JSON.stringify(question), read)) as readonly Row[];

  const partsOf = (readingIds: readonly string[]) =>
    known.parts.many(readingIds, async (missing) => {
      const read = new Map<string, RidePart | null>(missing.map((id) => [id, null]));
      for (const some of chunked(missing))
        for (const row of await ask(scope, `parts of ${some.length}`, [workshopId, ...some], () =>
          db
            .selectFrom('ride_reading')
            .selectAll()
            .where('workshop_id', '=', workshopId)
            .where('reading_id', 'in', some),
        ))
          read.set(row.reading_id, partOf(row));
      return read;
    });

  const bodiesOf = (ids: Iterable<string>) =>
    known.rides.many(ids, async (missing) => {
      const read = new Map<string, string | null>(missing.map((id) => [id, null]));
      for (const some of chunked(missing))
        for (const row of await ask(scope, `rides of ${some.length}`, [workshopId, ...some], () =>
          all().select('id').where('id', 'in', some),
        ))
          read.set(row.id, row.body);
      return read;
    });

  const textsOf = async (readingIds: readonly string[]): Promise<Map<string, string>> => {
    const parts = await partsOf(readingIds);
    const bodies = await bodiesOf(new Set([...parts.values()].flatMap((part) => part?.rideId ?? [])));
    return new Map([...bodies].flatMap(([id, body]) => (body === null ? [] : [[id, body] as const])));
  };

  const carrying = (sensorIds: readonly string[]) =>
    db
      .selectFrom('reading_sensor')
      .innerJoin('ride_reading', 'ride_reading.reading_id', 'reading_sensor.reading_id')
      .selectAll('ride_reading')
      .select('reading_sensor.sensor_id')
      .where('reading_sensor.workshop_id', '=', workshopId)
      .where('reading_sensor.sensor_id', 'in', [...sensorIds])
      .where('ride_reading.started_at_ms', 'is not', null);

  return {
    find: async (id) => {
      const row = await all().where('id', '=', id).executeTakeFirst();
      return row && rideOf(row);
    },
    listOfReadings: async (readingIds) =>
      [...(await textsOf(readingIds)).values()].map((body) => rideOf({ body })),
    listTexts: textsOf,
    listIds: async () =>
      (await db.selectFrom('ride').select('id').where('workshop_id', '=', workshopId).execute()).map(
        ({ id }) => id,
      ),
    listIdsOfSeveral: async () =>
      (
        await db
          .selectFrom('ride_reading')
          .select('ride_id')
          .where('workshop_id', '=', workshopId)
          .groupBy('ride_id')
          .having((of) => of.fn.countAll(), '>', 1)
          .orderBy('ride_id')
          .execute()
      ).map((row) => row.ride_id),
    listNear: async ({ riderId, bikeId }, from, to) => {
      const found = new Set<string>();
      for (const [column, id] of [['rider_id', riderId] as const, ['bike_id', bikeId] as const]) {
        if (id === null) continue;
        const rows = await placed(['near', column, id, from, to], () =>
          ask(scope, `near by ${column}`, [workshopId, id, to, from], () =>
            db
              .selectFrom('ride_reading')
              .select('reading_id')
              .where('workshop_id', '=', workshopId)
              .where(column, '=', id)
              .where('started_at_ms', '<=', to)
              .where('ended_at_ms', '>=', from),
          ),
        );
        for (const row of rows) found.add(row.reading_id);
      }
      return [...found];
    },
    listOf: async ({ riderIds, bikeIds }) => {
      const found = new Map<string, RideRow>();
      const recorded = () => all().where('source', '=', 'recorded');
      for (const some of chunked(riderIds))
        for (const ride of (await recorded().where('rider_id', 'in', some).execute()).map(rideOf))
          found.set(ride.id, ride);
      for (const some of chunked(bikeIds))
        for (const ride of (await recorded().where('bike_id', 'in', some).execute()).map(rideOf))
          found.set(ride.id, ride);
      return [...found.values()];
    },
    page: async (afterId, most) =>
      (await all().where('id', '>', afterId).orderBy('id').limit(most).execute()).map(rideOf),
    listCounted: async (bikeId, from) => {
      let query = counted().where('bike_id', '=', bikeId);
      if (from !== undefined) query = query.where('started_at_ms', '>=', from);
      return (await query.execute()).map(rideOf);
    },
    listCountedHours: async (bikeId, from, until) => {
      const within = [from, until].flatMap((at) => at ?? []);
      const name = `hours on a bike ${from === undefined ? '' : 'from'} ${until === undefined ? '' : 'until'}`;
      const rows = await ask(scope, name, [workshopId, 1, bikeId, ...within], () => {
        let query = db
          .selectFrom('ride')
          .select(['id', 'source', 'bike_id', 'started_at_ms', 'moving_s', 'ground_ms'])
          .where('workshop_id', '=', workshopId)
          .where('counts', '=', 1)
          .where('bike_id', '=', bikeId)
          .orderBy('started_at_ms')
          .orderBy('id');
        if (from !== undefined) query = query.where('started_at_ms', '>=', from);
        if (until !== undefined) query = query.where('started_at_ms', '<', until);
        return query;
      });
      return rows.map((row) => ({
        id: row.id,
        source: row.source as RideRow['source'],
        bikeId: row.bike_id,
        start: instantOrNull(row.started_at_ms),
        movingS: seconds(row.moving_s),
        groundMs: thousandths(row.ground_ms),
      }));
    },
    listLatestCounted: async (bikeId, { from, until, most }) =>
      (
        await all()
          .where('counts', '=', 1)
          .where('bike_id', '=', bikeId)
          .where('started_at_ms', '>=', from)
          .where('started_at_ms', '<', until)
          .orderBy('started_at_ms', 'desc')
          .orderBy('id', 'desc')
          .limit(most)
          .execute()
      ).map(rideOf),
    firstRecordedStart: async (bikeId, by) => {
      const row = await db
        .selectFrom('ride')
        .select('started_at_ms')
        .where('workshop_id', '=', workshopId)
        .where('counts', '=', 1)
        .where('bike_id', '=', bikeId)
        .where('source', '=', 'recorded')
        .where('started_at_ms', '<=', by)
        .orderBy('started_at_ms')
        .limit(1)
        .executeTakeFirst();
      return instantOrNull(row?.started_at_ms ?? null);
    },
    listLatestOfRider: async (riderId, most) =>
      (
        await all()
          .where('counts', '=', 1)
          .where('rider_id', '=', riderId)
          .orderBy('started_at_ms', 'desc')
          .limit(most)
          .execute()
      ).map(rideOf),
    listLatestStartsOfRider: async (riderId, most) => {
      const rows = await db
        .selectFrom('ride')
        .select('started_at_ms')
        .where('workshop_id', '=', workshopId)
        .where('counts', '=', 1)
        .where('rider_id', '=', riderId)
        .orderBy('started_at_ms', 'desc')
        .limit(most)
        .execute();
      return rows.map((row) => instant(row.started_at_ms!));
    },
    lastStartOfRider: async (riderId) => {
      const row = await db
        .selectFrom('ride')
        .where('workshop_id', '=', workshopId)
        .where('rider_id', '=', riderId)
        .select((select) => select.fn.max('started_at_ms').as('last'))
        .executeTakeFirst();
      return row?.last === null || row?.last === undefined ? null : instant(Number(row.last));
    },
    listHandedOver: async (of, by, most) => {
      const [column, id] =
        'riderId' in of ? (['rider_id', of.riderId] as const) : (['bike_id', of.bikeId] as const);
      const values = [workshopId, workshopId, id, by, workshopId, by, most];
      const rows = await ask(scope, `handed over by ${column}`, values, () => {
        const cameMs = db
          .selectFrom('reading')
          .innerJoin('arrival', 'arrival.file_id', 'reading.file_id')
          .select((file) => file.fn.min('arrival.arrived_at_ms').as('first'))
          .where('reading.id', '=', sql.ref<string>('ride_reading.reading_id'))
          .where('arrival.workshop_id', '=', workshopId);
        return db
          .selectFrom('ride_reading')
          .select(['started_at_ms', cameMs.as('came_ms')])
          .where('workshop_id', '=', workshopId)
          .where(column, '=', id)
          .where('started_at_ms', '<=', by)
          .where(cameMs, '<=', by)
          .orderBy('started_at_ms', 'desc')
          .limit(most);
      });
      return rows.map((row) => ({ start: instant(row.started_at_ms!), came: instant(Number(row.came_ms)) }));
    },
    listWays: async (riderId, most) => {
      const first = (column: 'arrived_at_ms' | 'way') =>
        db
          .selectFrom('reading')
          .innerJoin('arrival', 'arrival.file_id', 'reading.file_id')
          .select(`arrival.${column}`)
          .where('reading.id', '=', sql.ref<string>('ride_reading.reading_id'))
          .where('arrival.workshop_id', '=', workshopId)
          .orderBy('arrival.arrived_at_ms')
          .orderBy('arrival.id')
          .limit(1);
      const rows = await db
        .selectFrom('ride_reading')
        .select(['started_at_ms', first('arrived_at_ms').as('came_ms'), first('way').as('way')])
        .where('workshop_id', '=', workshopId)
        .where('rider_id', '=', riderId)
        .where('started_at_ms', 'is not', null)
        .orderBy('started_at_ms', 'desc')
        .limit(most)
        .execute();
      return rows.map((row) => ({
        start: instant(row.started_at_ms!),
        came: instant(Number(row.came_ms)),
        way: row.way as CameBy['way'],
      }));
    },
    ...askingTable(scope),
    listCame: async (riderId, since) => {
      const came = db
        .selectFrom('ride_reading')
        .innerJoin('reading', 'reading.id', 'ride_reading.reading_id')
        .innerJoin('arrival', 'arrival.file_id', 'reading.file_id')
        .select('ride_reading.ride_id')
        .where('ride_reading.workshop_id', '=', workshopId)
        .where('ride_reading.rider_id', '=', riderId)
        .where('arrival.workshop_id', '=', workshopId)
        .where('arrival.arrived_at_ms', '>=', since);
      return (
        await all()
          .where('rider_id', '=', riderId)
          .where('id', 'in', came)
          .orderBy('started_at_ms', (order) => order.asc().nullsFirst())
          .orderBy('id')
          .execute()
      ).map(rideOf);
    },
    put: async (rides, parts = []) => {
      const texts = rides.map((ride) => JSON.stringify(ride));
      await putRows(
        scope,
        'ride',
        rides.map((ride, i) => ({
          workshop_id: workshopId,
          id: ride.id,
          source: ride.source,
          rider_id: ride.riderId,
          bike_id: ride.bikeId,
          started_at_ms: ride.start,
          ended_at_ms: ride.end,
          moving_s: ride.movingS,
          ground_ms: ride.groundMs,
          counts: isCounted(ride) ? 1 : 0,
          question: ride.dismissed ? null : ride.question,
          body: texts[i]!,
        })),
        'id',
      );
      for (const [i, ride] of rides.entries()) known.rides.set(ride.id, texts[i]!);
      if (parts.length === 0) return;
      known.placed.forget();
      const rows = parts.map((part) => ({
        workshop_id: workshopId,
        reading_id: part.readingId,
        ride_id: part.rideId,
        rider_id: part.riderId,
        bike_id: part.bikeId,
        started_at_ms: part.start,
        ended_at_ms: part.end,
        named_bike_id: part.namedBikeId,
        profile: part.profile,
        recorder: part.recorder,
        named_rider_id: part.namedRiderId,
      }));
      await putRows(scope, 'ride_reading', rows, 'reading_id');
      for (const row of rows) known.parts.set(row.reading_id, partOf(row));
    },
    reweigh: async (rides) => {
      for (const ride of rides) {
        const body = JSON.stringify(ride);
        await ask(scope, 'weigh a ride', [ride.groundMs, body, workshopId, ride.id], () =>
          db
            .updateTable('ride')
            .set({ ground_ms: ride.groundMs, body })
            .where('workshop_id', '=', workshopId)
            .where('id', '=', ride.id),
        );
        known.rides.set(ride.id, body);
      }
    },
    listParts: async (readingIds) => {
      if (readingIds !== undefined)
        return [...(await partsOf(readingIds)).values()].filter((part) => part !== null);
      const rows = await db
        .selectFrom('ride_reading')
        .selectAll()
        .where('workshop_id', '=', workshopId)
        .execute();
      return rows.map(partOf);
    },
    listConfirmations: async (sensorIds) => {
      if (sensorIds.length === 0) return [];
      const rows = await placed(['confirmed', ...sensorIds], () =>
        carrying(sensorIds).where('ride_reading.named_bike_id', 'is not', null).execute(),
      );
      return rows.map((row) => ({
        sensorId: row.sensor_id,
        bikeId: row.named_bike_id!,
        start: instant(row.started_at_ms!),
        end: instant(row.ended_at_ms!),
      }));
    },
    listCarrying: async (sensorIds) => {
      if (sensorIds.length === 0) return [];
      const rows = await placed(['carrying', ...sensorIds], () =>
        carrying(sensorIds).where('ride_reading.named_bike_id', 'is', null).execute(),
      );
      return rows.map((row) => ({
        sensorId: row.sensor_id,
        readingId: row.reading_id,
        start: instant(row.started_at_ms!),
      }));
    },
    listOfProfile: async (riderId, profile) =>
      (
        await placed(['profile', riderId, profile], () =>
          db
            .selectFrom('ride_reading')
            .selectAll()
            .where('workshop_id', '=', workshopId)
            .where('rider_id', '=', riderId)
            .where('profile', '=', profile)
            .where('started_at_ms', 'is not', null)
            .execute(),
        )
      ).map(partOf),
    listRecorderUses: async (recorders) => {
      const found = new Map<string, RecorderUse[]>();
      for (const some of chunked(recorders))
        for (const row of await placed(['uses', ...some], () =>
          db
            .selectFrom('ride_reading')
            .select(['recorder', 'named_rider_id'])
            .select((of) => [
              of.fn.min('started_at_ms').as('first'),
              of.fn.min('ended_at_ms').as('first_end'),
              of.fn.max('started_at_ms').as('last'),
            ])
            .where('workshop_id', '=', workshopId)
            .where('recorder', 'in', some)
            .where('named_rider_id', 'is not', null)
            .where('started_at_ms', 'is not', null)
            .groupBy(['recorder', 'named_rider_id'])
            .execute(),
        ))
          found.set(row.recorder!, [
            ...(found.get(row.recorder!) ?? []),
            {
              riderId: row.named_rider_id!,
              first: instant(Number(row.first)),
              firstEnd: instant(Number(row.first_end)),
              last: instant(Number(row.last)),
            },
          ]);
      return found;
    },
    listUnnamedOfRecorder: async (recorder) =>
      (
        await db
          .selectFrom('ride_reading')
          .select(['reading_id', 'started_at_ms'])
          .where('workshop_id', '=', workshopId)
          .where('recorder', '=', recorder)
          .where('named_rider_id', 'is', null)
          .where('started_at_ms', 'is not', null)
          .execute()
      ).map((row) => ({ readingId: row.reading_id, start: instant(row.started_at_ms!) })),
    remove: async (ids) => {
      if (ids.length === 0) return;
      const gone = new Set(ids);
      known.placed.forget();
      known.parts.forgetWhere((part) => part !== null && gone.has(part.rideId));
      for (const id of ids) known.rides.set(id, null);
      for (const some of chunked(ids)) {
        await db.deleteFrom('ride').where('workshop_id', '=', workshopId).where('id', 'in', some).execute();
      }
    },
  };
}
