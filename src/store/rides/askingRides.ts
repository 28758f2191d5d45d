import type { SelectQueryBuilder } from 'kysely';
import type { AskingTable, RideRow } from '../../ports/rides.js';
import { instant, type Seconds, seconds } from '../../units.js';
import { chunked, type Scope } from '../scope.js';
import type { Tables } from '../tables.js';

type Asking = SelectQueryBuilder<Tables, 'ride', Partial<Tables['ride']>>;

/** Rides without a time come first, in every kind of database. */
const inOrder = <Q extends Asking>(of: Q): Q =>
  of.orderBy('started_at_ms', (order) => order.asc().nullsFirst()).orderBy('id') as Q;

/** Rides that wait for a person's word: few among all, in indexes of their own. */
export function askingTable({ db, workshopId }: Scope): AskingTable {
  const asking = () =>
    db.selectFrom('ride').where('ride.workshop_id', '=', workshopId).where('question', 'is not', null);
  const bodies = () => asking().select('body');
  const rideOf = (row: { body: string }): RideRow => JSON.parse(row.body) as RideRow;
  const askingBy = (column: 'bike_id' | 'rider_id') =>
    asking()
      .select((of) => [of.ref(column).as('id'), of.fn.sum('moving_s').as('sum')])
      .groupBy(column);

  return {
    listAsking: async () => (await inOrder(bodies()).execute()).map(rideOf),
    listAskingFrom: async (from, most) => {
      if (from === null) return (await inOrder(bodies()).limit(most).execute()).map(rideOf);
      const { start, id } = from;
      const alike = bodies()
        .where('started_at_ms', start === null ? 'is' : '=', start)
        .where('id', '>=', id)
        .orderBy('id');
      const later =
        start === null
          ? bodies().where('started_at_ms', 'is not', null)
          : bodies().where('started_at_ms', '>', start);
      const found: RideRow[] = [];
      for (const some of [alike, later.orderBy('started_at_ms').orderBy('id')])
        if (found.length < most) found.push(...(await some.limit(most - found.length).execute()).map(rideOf));
      return found;
    },
    listAskingForBike: async (most) => {
      const rows = await inOrder(asking().select(['id', 'started_at_ms', 'rider_id']))
        .where('question', 'in', ['who', 'which-bike'])
        .limit(most)
        .execute();
      return rows.map((row) => ({
        id: row.id,
        start: row.started_at_ms === null ? null : instant(row.started_at_ms),
        riderId: row.rider_id,
      }));
    },
    firstNames: async (rideIds) => {
      const names = new Map<string, string>();
      for (const some of chunked(rideIds)) {
        const rows = await db
          .selectFrom('ride_reading')
          .innerJoin('reading', 'reading.id', 'ride_reading.reading_id')
          .innerJoin('arrival', 'arrival.file_id', 'reading.file_id')
          .select(['ride_reading.ride_id', 'arrival.name'])
          .where('arrival.workshop_id', '=', workshopId)
          .where('ride_reading.ride_id', 'in', some)
          .orderBy('arrived_at_ms')
          .orderBy('after_fact')
          .orderBy('arrival.id')
          .execute();
        for (const { ride_id, name } of rows) if (!names.has(ride_id)) names.set(ride_id, name);
      }
      return names;
    },
    listAskingOfRider: async (riderId) =>
      (await inOrder(bodies().where('rider_id', '=', riderId)).execute()).map(rideOf),
    sumAsking: async ({ bikeIds, riderIds }) => {
      const ofBike = new Map<string, Seconds>();
      for (const some of chunked(bikeIds))
        for (const { id, sum } of await askingBy('bike_id').where('bike_id', 'in', some).execute())
          ofBike.set(id!, seconds(Number(sum)));
      const ofRider = new Map<string, Seconds>();
      for (const some of chunked(riderIds)) {
        const rows = askingBy('rider_id').where('rider_id', 'in', some).where('bike_id', 'is', null);
        for (const { id, sum } of await rows.execute()) ofRider.set(id!, seconds(Number(sum)));
      }
      return { ofBike, ofRider };
    },
    countAsking: async () => {
      const row = await asking()
        .select((of) => of.fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    listSettling: async (since, riderId) => {
      let query = db
        .selectFrom('ride')
        .innerJoin('ride_reading', 'ride_reading.ride_id', 'ride.id')
        .innerJoin('reading', 'reading.id', 'ride_reading.reading_id')
        .innerJoin('arrival', 'arrival.file_id', 'reading.file_id')
        .select('ride.rider_id')
        .where('ride.workshop_id', '=', workshopId)
        .where('arrival.workshop_id', '=', workshopId)
        .where('ride.question', '=', 'which-bike')
        .where('ride.rider_id', 'is not', null)
        .groupBy('ride.rider_id')
        .having((of) => of.fn.min('arrival.arrived_at_ms'), '>=', since);
      if (riderId !== undefined) query = query.where('ride.rider_id', '=', riderId);
      return new Set((await query.execute()).map((row) => row.rider_id!));
    },
    countAskingOn: async (bikeIds) => {
      const counts = new Map<string, number>();
      for (const some of chunked(bikeIds)) {
        const settled = asking().select(['id', 'bike_id']).where('bike_id', 'in', some);
        const named = db
          .selectFrom('ride')
          .innerJoin('ride_reading', 'ride_reading.ride_id', 'ride.id')
          .innerJoin('reading', 'reading.id', 'ride_reading.reading_id')
          .innerJoin('arrival', 'arrival.file_id', 'reading.file_id')
          .select(['ride.id', 'arrival.bike_id'])
          .where('ride.workshop_id', '=', workshopId)
          .where('ride.question', 'is not', null)
          .where('ride.bike_id', 'is', null)
          .where('arrival.workshop_id', '=', workshopId)
          .where('arrival.bike_id', 'in', some);
        // Said twice of one ride, a bike is said once.
        for (const { bike_id } of await settled.union(named).execute())
          counts.set(bike_id!, (counts.get(bike_id!) ?? 0) + 1);
      }
      return counts;
    },
  };
}
