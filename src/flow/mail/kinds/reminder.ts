import { type Offer, offersFor } from '../../../core/ledger/offer.js';
import { type AddedServiceKind, defaultRestarts } from '../../../core/ledger/serviceKinds.js';
import { groundAt } from '../../../core/ledger/weight.js';
import type { ReminderItem, ReminderRide } from '../../../core/notices/mailContent.js';
import { isTold } from '../../../core/states.js';
import type { StandingRow } from '../../../ports/standings.js';
import type { Tx } from '../../../ports/store.js';
import { type Day, hoursOfSeconds, hoursOfThousandths } from '../../../units.js';
import { type DueRow, listDueOfMany } from '../../due/listDue.js';
import { listOfferedDays } from '../../plan/leadDays.js';
import { listAddedKinds } from '../../settings.js';
import { middleHalfOf } from '../middleHalf.js';
import { oneOfStopped } from '../oneOfStopped.js';
import { findSilence } from '../silences.js';
import type { MailSource, RiderWork } from './mailKind.js';

const FREE_DAYS = 3;
const LAST_RIDES = 3;

/** All that a rider is reminded of on a day. */
export const reminder: MailSource = {
  isStoppable: true,
  toRider: async (work) => {
    const { tx, mail, now, frame, maker } = work;
    const items = await reminderItems(work);
    const [first] = items;
    const content = {
      ...frame,
      items: items.map(({ unitId: _, ...item }) => item),
      lastRides: await lastRides(tx, mail.to),
      freeDays: first
        ? await listOfferedDays(
            tx,
            { unitId: first.unitId, serviceKind: first.offered, count: FREE_DAYS },
            now,
          )
        : [],
      links: maker && {
        wrongBike: maker.own('bike'),
        stopMails: maker.own('stop'),
        ownPage: maker.own('page'),
      },
    };
    return { mail: 'reminder', content };
  },
};

/** One item a unit and job: what the notices tell of, with the larger job offered in place of a smaller one. */
async function reminderItems({
  tx,
  notices,
  maker,
  now,
  today,
  workshop,
}: RiderWork): Promise<(ReminderItem & { readonly unitId: string })[]> {
  const added = await listAddedKinds(tx);
  const told = new Set(notices.map((notice) => `${notice.unitId} ${notice.serviceKind}`));
  const unitIds = [...new Set(notices.map(({ unitId }) => unitId).filter((id) => id !== null))];
  const rows = oneOfStopped(
    (await listDueOfMany(tx, unitIds, now)).filter((row) => told.has(`${row.unitId} ${row.serviceKind}`)),
  );
  const items: (ReminderItem & { readonly unitId: string })[] = [];
  for (const row of rows) {
    if (!isTold(row.state)) continue;
    const standings = await tx.standings.listOf(row.unitId);
    const silence = row.riderId === null ? null : await findSilence(tx, row.riderId, now, workshop.timeZone);
    const standing = standings.find((one) => one.serviceKind === row.serviceKind)!;
    items.push({
      unitId: row.unitId,
      bike: row.bikeName ?? row.unit,
      tag: row.unit,
      unitKind: row.unitKind,
      model: row.model,
      serviceKind: row.serviceKind,
      offered: offerOf(row, standings, added, today)?.serviceKind ?? row.serviceKind,
      state: row.state,
      movingHours: hoursOfSeconds(standing.movingS),
      terrainHours: hoursOfThousandths(standing.terrainMs),
      interval: row.interval,
      since: standing.periodStart,
      limit: row.limit,
      hoursLeft: row.hoursLeft,
      about: middleHalfOf(standing),
      noRidesSince: silence?.since ?? null,
      price: null,
      turnaround: null,
      links: maker?.item(row.unitId, row.serviceKind) ?? null,
    });
  }
  return items;
}

function offerOf(
  row: DueRow,
  standings: readonly StandingRow[],
  added: readonly AddedServiceKind[],
  today: Day,
): Offer | undefined {
  const jobs = standings.map((standing) => ({
    standing,
    restarts: defaultRestarts(row, standing.serviceKind, added) ?? [],
  }));
  return offersFor(jobs, today).find((offer) => offer.includes.includes(row.serviceKind));
}

async function lastRides(tx: Tx, riderId: string): Promise<ReminderRide[]> {
  const bikes = new Map(
    (await tx.facts.list('bike', { object: riderId })).map((fact) => [fact.entityId, fact.body.name]),
  );
  return (await tx.rides.listLatestOfRider(riderId, LAST_RIDES)).map((ride) => ({
    day: ride.day!,
    bike: bikes.get(ride.bikeId!) ?? '',
    movingHours: hoursOfSeconds(ride.movingS),
    terrainHours: hoursOfThousandths(ride.terrainMs),
    ground: groundAt(ride.severity),
  }));
}
