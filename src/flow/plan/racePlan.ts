import { dayOf } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { chargedRides } from '../../core/ledger/hours.js';
import type { Bike, CountedRide, Fitting, Unit } from '../../core/ledger/ledger.js';
import { serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import { clampOn } from '../../core/ledger/weight.js';
import { addUp, type PartUse, partsFor } from '../../core/plan/parts.js';
import { RACE_OPEN_DAYS, type RaceNeed, type RaceOfBike, raceNeeds } from '../../core/plan/races.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Day, type Instant, instant, msOf } from '../../units.js';
import { type ForeseenUnit, listForeseen, minutesOf } from '../due/foreseen.js';
import { listFleetBikes } from '../fittings/fleet.js';
import { getWorkshop } from '../settings.js';
import { benchOf } from './leadDays.js';
import { listPartRows } from './partsShelf.js';
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
  /** Most urgent first. */
  readonly jobs: readonly RaceJob[];
  /** Units with a crash mark: to be seen, whatever the hours say. */
  readonly stopped: readonly { readonly unit: Unit; readonly bike: Bike }[];
  /** What the jobs take together. */
  readonly parts: readonly PartUse[];
  /** What one of each unit's smallest service takes, to have along. */
  readonly carry: readonly PartUse[];
  /** What the trucks of its fleets always carry. */
  readonly spares: readonly PartUse[];
}

/** A bike's ground is that of its rides of these last days; where there are none, of its last year. */
const LOOKED_BACK_DAYS = [90, 366] as const;

/** Returns the races to come in order of date, with what each needs and by when; of one fleet's bikes alone where it is named. */
export async function listRacePlans(
  tx: Tx,
  now: Instant,
  fleetId: string | null = null,
): Promise<RacePlan[]> {
  const workshop = await getWorkshop(tx);
  const today = dayOf(now, workshop.timeZone);
  const races = (await listRaces(tx, fleetId))
    .filter(({ body }) => body.on >= today)
    .sort((a, b) => (a.body.on < b.body.on ? -1 : a.body.on > b.body.on ? 1 : a.id < b.id ? -1 : 1));
  const raced = new Set(races.flatMap(({ body }) => body.bikeIds));
  const units = (await listForeseen(tx, now)).filter(({ bike }) => bike !== null && raced.has(bike.id));
  const rows = await listPartRows(tx);
  const openDaysBefore = workshop.raceOpenDays ?? RACE_OPEN_DAYS;
  const fitted: FittedUnit[] = [];
  for (const one of units) fitted.push({ ...one, ...(await weightOf(tx, one, now)) });
  const jobs = fitted.flatMap((one) => {
    const needs = raceNeeds({
      foreseen: one.foreseen,
      races: races.filter(({ body }) => body.bikeIds.includes(one.bike!.id)).map(raceOfBike),
      weight: one.weight,
      open: benchOf(workshop),
      openDaysBefore,
      today,
    });
    return needs.map(
      (need): RaceJob => ({
        ...need,
        unit: one.unit,
        bike: one.bike!,
        minutes: minutesOf(one, need.serviceKind),
        parts: partsFor(rows, one.unit, need.serviceKind),
      }),
    );
  });
  const plans: RacePlan[] = [];
  for (const race of races)
    plans.push({
      ...planOf(race, fitted, jobs, (unit, kind) => partsFor(rows, unit, kind)),
      openDaysBefore,
      spares: addUp(await listSparesOf(tx, race.body.bikeIds)),
    });
  return plans;
}

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
  { entityId, body }: Fact<'race'>,
  fitted: readonly FittedUnit[],
  jobs: readonly RaceJob[],
  partsOf: (unit: Unit, kind: string) => PartUse[],
): Omit<RacePlan, 'openDaysBefore' | 'spares'> {
  const there = fitted.filter(({ bike }) => body.bikeIds.includes(bike!.id));
  const own = jobs.filter((job) => job.raceId === entityId).sort(byUrgency);
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
    jobs: own,
    stopped: stopped.map(({ unit, bike }) => ({ unit, bike: bike! })),
    parts: addUp(own.flatMap((job) => job.parts)),
    carry: addUp(there.flatMap(({ unit }) => partsOf(unit, serviceKindsOf(unit, [])[0]!.name))),
  };
}

const byUrgency = (a: RaceJob, b: RaceJob): number =>
  (a.by ?? '') < (b.by ?? '') ? -1 : (a.by ?? '') > (b.by ?? '') ? 1 : a.unit.tag < b.unit.tag ? -1 : 1;

/** The weight of the bike's own recent rides as this unit is charged with them. */
async function weightOf(tx: Tx, { unit, bike }: ForeseenUnit, now: Instant): Promise<BikeWeight> {
  const bikeId = bike!.id;
  const always: Fitting = { id: '', unitId: unit.id, bikeId, from: instant(0), to: null };
  for (const days of LOOKED_BACK_DAYS) {
    const rides = (await tx.rides.listCounted(bikeId, instant(now - days * DAY_MS))).map(
      ({ id, start, movingS, groundMs }): CountedRide => ({ id, bikeId, start: start!, movingS, groundMs }),
    );
    const clampOf = () => clampOn(bike!);
    const charged = chargedRides({ fittings: [always], rides, factor: unit.factor, clampOf, now });
    const movingMs = charged.reduce((sum, ride) => sum + msOf(ride.movingS), 0);
    const terrainMs = charged.reduce((sum, ride) => sum + ride.terrainMs, 0);
    if (movingMs > 0) return { weight: terrainMs / movingMs, rides: charged.length };
  }
  return { weight: unit.factor, rides: 0 };
}
