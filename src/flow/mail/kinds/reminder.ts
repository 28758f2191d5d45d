import { monthsEnd } from '../../../core/forecast/dueChance.js';
import { groupBy } from '../../../core/groupBy.js';
import type { WorkshopFact } from '../../../core/ledger/facts.js';
import { type Offer, offersFor } from '../../../core/ledger/offer.js';
import { type AddedServiceKind, defaultRestarts } from '../../../core/ledger/serviceKinds.js';
import { groundAt } from '../../../core/ledger/weight.js';
import type {
  AskedDeclared,
  ReminderBike,
  ReminderItem,
  ReminderRide,
} from '../../../core/notices/mailContent.js';
import { isTold, toldRank } from '../../../core/states.js';
import type { ServiceKind, UnitKind } from '../../../core/tokens.js';
import type { StandingRow } from '../../../ports/standings.js';
import type { Tx } from '../../../ports/store.js';
import { type Day, hoursOfSeconds, hoursOfThousandths } from '../../../units.js';
import { type DueRow, listDueOfMany } from '../../due/listDue.js';
import { listAdvised } from '../../facts/jobQuestions.js';
import { getDeclared } from '../../own/declare.js';
import { listOfferedDays } from '../../plan/leadDays.js';
import { listAddedKinds } from '../../settings.js';
import { middleHalfOf } from '../middleHalf.js';
import { findSilence } from '../silences.js';
import type { MailSource, RiderWork } from './mailKind.js';

const FREE_DAYS = 3;
const LAST_RIDES = 3;

/** All that a rider is reminded of on a day. */
export const reminder: MailSource = {
  stops: 'stop',
  toRider: async (work) => {
    const { tx, mail, frame, maker } = work;
    const bikes = await reminderBikes(work);
    if (bikes.length === 0) return null;
    const content = {
      ...frame,
      bikes,
      lastRides: await lastRides(tx, mail.to),
      links: maker && {
        wrongBike: maker.own('bike'),
        stopMails: maker.own('stop'),
        ownPage: maker.own('page'),
      },
    };
    return { mail: 'reminder', content };
  },
};

/** What the notices tell of, bike by bike. */
async function reminderBikes(work: RiderWork): Promise<ReminderBike[]> {
  const bikes: ReminderBike[] = [];
  for (const [bikeId, found] of groupBy(await reminderItems(work), ({ bikeId }) => bikeId)) {
    const [{ item: first }] = found as [FoundItem];
    const units = [...groupBy(found, ({ unitId }) => unitId)].map(([unitId, own]) => ({
      unitId,
      jobs: [...new Set(own.map(({ item }) => item.offered))],
    }));
    const wish = { units, count: FREE_DAYS };
    const freeDays = await listOfferedDays(work.tx, wish, work.now);
    const asked = await askedOf(work, bikeId);
    bikes.push({ bike: first.bike, items: found.map(({ item }) => item), freeDays, asked });
  }
  return bikes;
}

/** What was declared of a bike, once a quarter of a year: the question goes with a mail, never alone. */
async function askedOf({ tx, now }: RiderWork, bikeId: string): Promise<AskedDeclared | null> {
  const { now: holds, isToAsk } = await getDeclared(tx, bikeId, now);
  if (holds === null || !isToAsk) return null;
  const { hoursAWeek, ground, months } = holds.body;
  return { hoursAWeek, ground, months };
}

interface FoundItem {
  readonly unitId: string;
  readonly bikeId: string;
  readonly item: ReminderItem;
}

/** One item a unit and job: what the notices tell of, with the larger job offered in place of a smaller one. */
async function reminderItems({ tx, notices, maker, now, today, workshop }: RiderWork): Promise<FoundItem[]> {
  const added = await listAddedKinds(tx);
  const told = new Set(notices.map((notice) => `${notice.unitId} ${notice.serviceKind}`));
  const unitIds = [...new Set(notices.map(({ unitId }) => unitId).filter((id) => id !== null))];
  const due = await listDueOfMany(tx, unitIds, now);
  const rows = due.filter((row) => told.has(`${row.unitId} ${row.serviceKind}`));
  const items: FoundItem[] = [];
  for (const row of rows) {
    const { state } = row;
    if (!isTold(state) || state === 'stop-riding') continue;
    const standings = await tx.standings.listOf(row.unitId);
    const silence = row.riderId === null ? null : await findSilence(tx, row.riderId, now, workshop.timeZone);
    const standing = standings.find((one) => one.serviceKind === row.serviceKind)!;
    const offer = offerOf(row, standings, added, today);
    const offered = offer?.serviceKind ?? row.serviceKind;
    const item: ReminderItem = {
      bike: row.bikeName ?? row.unit,
      tag: row.unit,
      unitKind: row.unitKind,
      model: row.model,
      serviceKind: row.serviceKind,
      offered,
      because: offer?.because ?? null,
      state,
      movingHours: hoursOfSeconds(standing.movingS),
      terrainHours: hoursOfThousandths(standing.terrainMs),
      declaredHours: row.declaredHours,
      interval: row.interval,
      since: standing.periodStart,
      monthsEnd: monthsEnd(standing),
      limit: row.limit,
      hoursLeft: row.hoursLeft,
      about: middleHalfOf(standing),
      noRidesSince: state === 'coming-up' ? (silence?.since ?? null) : null,
      ...offeredAs(workshop, row.unitKind, offered),
      advised: (await listAdvised(tx, row.unitId)).map(({ to: job, why, on }) => ({ job, why, on })),
      links: maker?.item(row.unitId, row.serviceKind) ?? null,
    };
    items.push({ unitId: row.unitId, bikeId: row.bikeId ?? row.unitId, item });
  }
  return items.sort((a, b) => toldRank(a.item.state) - toldRank(b.item.state));
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

/** What the workshop typed of a job. */
function offeredAs({ offers = [] }: WorkshopFact, unitKind: UnitKind, serviceKind: ServiceKind) {
  const of = offers.find((one) => one.unitKind === unitKind && one.serviceKind === serviceKind);
  return { price: of?.price ?? null, turnaround: of?.turnaround ?? null };
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
    isByHand: ride.source !== 'recorded',
  }));
}
