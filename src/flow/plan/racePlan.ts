import { dayOf } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { chargedRides } from '../../core/ledger/hours.js';
import type { Bike, CountedRide, Fitting, Unit } from '../../core/ledger/ledger.js';
import { serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import { clampOn } from '../../core/ledger/weight.js';
import { naturalOrder } from '../../core/naturalOrder.js';
import { holdsPlace } from '../../core/plan/leads.js';
import { addUp, type PartUse, partsFor } from '../../core/plan/parts.js';
import { type BenchOrder, placeOnBench } from '../../core/plan/raceBench.js';
import { RACE_OPEN_DAYS, type RaceNeed, type RaceOfBike, raceNeeds } from '../../core/plan/races.js';
import type { Bench } from '../../core/plan/slots.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Day, type Instant, instant, msOf } from '../../units.js';
import { type ForeseenUnit, listForeseen, minutesOf } from '../due/foreseen.js';
import { listFleetBikes } from '../fittings/fleet.js';
import { getWorkshop } from '../settings.js';
import { benchOf } from './leadDays.js';
import { listPartRows } from './partsShelf.js';
import { listSpares, takeSpare } from './raceSpares.js';
import { listSparesOf } from './spares.js';

/** How rough a bike's hours are. */
export interface BikeWeight {
  /** Terrain hours a moving hour. */
  readonly weight: number;
  /** Of how many rides; with none a typical trail is assumed. */
  readonly rides: number;
}

/** A job to be done before a race, with what it takes. */
export interface RaceJob extends RaceNeed {
  readonly unit: Unit;
  readonly bike: Bike;
  readonly minutes: number;
  readonly parts: readonly PartUse[];
  /** The day on which the bench has time for it; null where it has none by then. */
  readonly on: Day | null;
  /** The tag of a spare that could be raced in its place; null where it fits, or where there is none. */
  readonly spare: string | null;
}

export interface RacePlan {
  readonly race: string;
  readonly name: string;
  readonly on: Day;
  readonly practiceHours: number;
  readonly raceHours: number;
  readonly bikes: readonly { readonly bike: Bike; readonly units: readonly (Unit & BikeWeight)[] }[];
  /** Open days between the last day for its services and the race. */
  readonly openDaysBefore: number;
  /** Most urgent first, then what would be furthest over. */
  readonly jobs: readonly RaceJob[];
  /** By which order the bench is filled, and how many more jobs of this race would fit by the other. */
  readonly order: BenchOrder;
  readonly moreByOther: number;
  /** Units with a crash mark: to be seen, whatever the hours say. */
  readonly stopped: readonly { readonly unit: Unit; readonly bike: Bike }[];
  /** What the jobs for which the bench has time take together. */
  readonly parts: readonly PartUse[];
  /** What one of each unit's smallest service takes, to have along. */
  readonly carry: readonly PartUse[];
  /** What the trucks of its fleets always carry. */
  readonly spares: readonly PartUse[];
}

/** A bike's ground is that of its rides of these last days; where there are none, of its last year. */
const LOOKED_BACK_DAYS = [90, 366] as const;

/**
 * Returns the races to come in order of date, with what each needs, by when, and on which day the bench has time for it;
 * of one fleet's bikes alone where it is named. The bench is everybody's.
 */
export async function listRacePlans(
  tx: Tx,
  now: Instant,
  fleetId: string | null = null,
  order: BenchOrder = 'due-first',
): Promise<RacePlan[]> {
  const workshop = await getWorkshop(tx);
  const today = dayOf(now, workshop.timeZone);
  const races = (await listRaces(tx, null))
    .filter(({ body }) => body.on >= today)
    .sort((a, b) => (a.body.on < b.body.on ? -1 : a.body.on > b.body.on ? 1 : a.id < b.id ? -1 : 1));
  const raced = new Set(races.flatMap(({ body }) => body.bikeIds));
  const everyUnit = await listForeseen(tx, now);
  const units = everyUnit.filter(({ bike }) => bike !== null && raced.has(bike.id));
  const rows = await listPartRows(tx);
  const openDaysBefore = workshop.raceOpenDays ?? RACE_OPEN_DAYS;
  const fitted: FittedUnit[] = [];
  for (const one of units) fitted.push({ ...one, ...(await weightOf(tx, one, now)) });
  const bench = benchOf(workshop);
  const needed = fitted.flatMap((one) => {
    const needs = raceNeeds({
      foreseen: one.foreseen,
      races: races.filter(({ body }) => body.bikeIds.includes(one.bike!.id)).map(raceOfBike),
      weight: one.weight,
      open: bench,
      openDaysBefore,
      today,
    });
    return needs.map(
      (need): NeededJob => ({
        ...need,
        unit: one.unit,
        bike: one.bike!,
        minutes: minutesOf(one, need.serviceKind),
        parts: partsFor(rows, one.unit, need.serviceKind),
      }),
    );
  });
  needed.sort(byUrgency);
  const place = await benchFor(tx, needed, bench, today);
  const days = place(order);
  const others = place(order === 'due-first' ? 'short-first' : 'due-first');
  const free = await listSpares(tx, everyUnit, now);
  const jobs = needed.map((need, i): RaceJob => {
    const on = days[i]!;
    if (on !== null) return { ...need, on, spare: null };
    const race = raceOfBike(races.find(({ entityId }) => entityId === need.raceId)!);
    const { weight } = fitted.find((one) => one.unit.id === need.unitId)!;
    const input = { race, weight: weight / need.unit.factor, open: bench, openDaysBefore, today };
    return { ...need, on, spare: takeSpare(free, need, input) };
  });
  const own = fleetId === null ? races : await listRaces(tx, fleetId);
  const plans: RacePlan[] = [];
  for (const { entityId } of races) {
    const race = own.find((one) => one.entityId === entityId);
    if (!race) continue;
    const isOwn = ({ raceId, bike }: NeededJob): boolean =>
      raceId === race.entityId && race.body.bikeIds.includes(bike.id);
    const missing = (placed: readonly (Day | null)[]): number =>
      needed.filter((job, i) => isOwn(job) && placed[i] === null).length;
    plans.push({
      ...planOf(race, fitted, jobs.filter(isOwn), (unit, kind) => partsFor(rows, unit, kind)),
      openDaysBefore,
      order,
      moreByOther: Math.max(0, missing(days) - missing(others)),
      spares: addUp(await listSparesOf(tx, race.body.bikeIds)),
    });
  }
  return plans;
}

/** Returns how the bench is filled by an order, around what has a day already. */
async function benchFor(tx: Tx, needed: readonly NeededJob[], bench: Bench, today: Day) {
  const leads = (await tx.leads.list(['asked-for', 'booked'])).filter(
    (lead) => holdsPlace(lead) && lead.day !== null,
  );
  const taken = leads.map(({ day, benchMinutes }) => ({ day: day!, minutes: benchMinutes }));
  const tasks = needed.map(({ unitId, minutes, by }) => ({
    minutes,
    by,
    booked: leads.find((lead) => lead.unitId === unitId && lead.day! >= today)?.day ?? null,
  }));
  return (order: BenchOrder): (Day | null)[] => placeOnBench(bench, taken, tasks, { today, order });
}

/** A job before the bench was asked. */
type NeededJob = Omit<RaceJob, 'on' | 'spare'>;

async function listRaces(tx: Tx, fleetId: string | null): Promise<Fact<'race'>[]> {
  const races = await tx.facts.list('race');
  if (fleetId === null) return [...races];
  const own = new Set((await listFleetBikes(tx, fleetId)).map(({ id }) => id));
  return races
    .map((race) => ({
      ...race,
      body: { ...race.body, bikeIds: race.body.bikeIds.filter((id) => own.has(id)) },
    }))
    .filter(({ body }) => body.bikeIds.length > 0);
}

type FittedUnit = ForeseenUnit & BikeWeight;

const raceOfBike = ({ entityId: raceId, body }: Fact<'race'>): RaceOfBike => ({
  raceId,
  on: body.on,
  practiceHours: body.practiceHours,
  raceHours: body.raceHours,
});

function planOf(
  { body }: Fact<'race'>,
  fitted: readonly FittedUnit[],
  jobs: readonly RaceJob[],
  partsOf: (unit: Unit, kind: string) => PartUse[],
): Omit<RacePlan, 'openDaysBefore' | 'order' | 'moreByOther' | 'spares'> {
  const there = fitted.filter(({ bike }) => body.bikeIds.includes(bike!.id));
  const stopped = there.filter(({ foreseen }) =>
    foreseen.some(({ standing }) => standing.state === 'stop-riding'),
  );
  const bikes = body.bikeIds.flatMap((bikeId) => {
    const units = there.filter(({ bike }) => bike!.id === bikeId);
    return units.length === 0
      ? []
      : [
          {
            bike: units[0]!.bike!,
            units: units.map(({ unit, weight, rides }) => ({ ...unit, weight, rides })),
          },
        ];
  });
  const { handle: race, name, on, practiceHours, raceHours } = body;
  return {
    race,
    name,
    on,
    practiceHours,
    raceHours,
    bikes,
    jobs,
    stopped: stopped.map(({ unit, bike }) => ({ unit, bike: bike! })),
    parts: addUp(jobs.flatMap((job) => (job.on === null ? [] : job.parts))),
    carry: addUp(there.flatMap(({ unit }) => partsOf(unit, serviceKindsOf(unit, [])[0]!.name))),
  };
}

const byUrgency = (a: NeededJob, b: NeededJob): number =>
  (a.by ?? '') < (b.by ?? '')
    ? -1
    : (a.by ?? '') > (b.by ?? '')
      ? 1
      : overBy(b) - overBy(a) || naturalOrder(a.unit.tag, b.unit.tag);

/** By how many hours it would be over after the race; months alone and an unknown history count as none. */
const overBy = ({ reasons }: NeededJob): number =>
  Math.max(
    0,
    ...reasons.map(({ limit, limitHours, terrainHoursThen, movingHoursThen }) =>
      limitHours === null ? 0 : (limit === 'moving-hours' ? movingHoursThen : terrainHoursThen) - limitHours,
    ),
  );

/** The weight of the bike's own recent rides as this unit is charged with them. */
async function weightOf(tx: Tx, { unit, bike }: ForeseenUnit, now: Instant): Promise<BikeWeight> {
  const bikeId = bike!.id;
  const always: Fitting = { id: '', unitId: unit.id, bikeId, from: instant(0), to: null };
  for (const days of LOOKED_BACK_DAYS) {
    const rides = (await tx.rides.listCounted(bikeId, instant(now - days * DAY_MS))).map(
      ({ id, start, movingS, groundMs }): CountedRide => ({ id, bikeId, start: start!, movingS, groundMs }),
    );
    const clampOf = () => clampOn(bike!, now);
    const charged = chargedRides({ fittings: [always], rides, factor: unit.factor, clampOf, now });
    const movingMs = charged.reduce((sum, ride) => sum + msOf(ride.movingS), 0);
    const terrainMs = charged.reduce((sum, ride) => sum + ride.terrainMs, 0);
    if (movingMs > 0) return { weight: terrainMs / movingMs, rides: charged.length };
  }
  return { weight: unit.factor, rides: 0 };
}
