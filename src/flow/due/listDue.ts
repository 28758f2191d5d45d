import { dayNumber } from '../../core/days/dayNumber.js';
import { groupBy } from '../../core/groupBy.js';
import type { Likely } from '../../core/ledger/comingUp.js';
import type { BikeFact, FactBodies, UnitFact } from '../../core/ledger/facts.js';
import type { Interval } from '../../core/ledger/interval.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import { PRESSING_STATES, pressingRank } from '../../core/states.js';
import type { Limit, ServiceKind, State, UnitKind } from '../../core/tokens.js';
import type { ShownStanding } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import { type Day, hoursOfSeconds, hoursOfThousandths, type Instant, seconds } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';

/** A unit and service kind as `due` shows it. Units: hours with four decimals. */
export interface DueRow {
  readonly unitId: string;
  readonly unit: string;
  readonly unitKind: UnitKind;
  readonly model: string | null;
  readonly serviceKind: ServiceKind;
  readonly bikeId: string | null;
  readonly bike: string | null;
  readonly bikeName: string | null;
  readonly riderId: string | null;
  readonly rider: string | null;
  readonly movingHoursSince: number;
  readonly terrainHoursSince: number;
  /** What waits in the tray for its bike, or for its rider with no bike yet. */
  readonly waitingHours: number;
  readonly interval: Interval;
  readonly hoursLeft: number | null;
  readonly state: State;
  readonly limit: Limit;
  readonly likely: Likely;
  /** The day to which files are taken to be complete; null where none are waited for. */
  readonly knownUpTo: Day | null;
  /** Terrain hours expected after that day; in no sum. */
  readonly expectedHoursSince: number;
  /** Of the terrain hours what its rider declared: nobody recorded it. */
  readonly declaredHours: number;
  readonly asOf: Instant;
}

/** A part of the list of what is due, a row a unit, and what the whole of it comes to. */
export interface DuePart {
  readonly units: readonly DueUnit[];
  /** How many units there are in each state, by the row that comes first. */
  readonly counts: ReadonlyMap<State, number>;
  /** As of when the oldest is; null where there are none. */
  readonly asOf: Instant | null;
}

/** A unit in the list: the row that comes first, and those of its other services in their order. */
export interface DueUnit<R extends DueRow = DueRow> {
  readonly first: R;
  readonly rest: readonly R[];
}

/** Returns rows a unit, in the order of each unit's first. Shape: rows in order. */
export function byUnit<R extends DueRow>(rows: readonly R[]): DueUnit<R>[] {
  return [...groupBy(rows, ({ unitId }) => unitId).values()].map(([first, ...rest]) => ({
    first: first!,
    rest,
  }));
}

/** Returns a part of the units of what `listDue` returns, without reading the rest. */
export async function getDuePart(
  tx: Tx,
  now: Instant,
  of: { readonly states: readonly State[]; readonly from: number; readonly most: number },
): Promise<DuePart> {
  const unitIds = await tx.standings.page(of);
  const units = byUnit((await rowsOf(tx, await tx.standings.listShown(unitIds), now)).sort(byDate));
  const place = new Map(unitIds.map((unitId, i) => [unitId, i]));
  units.sort((a, b) => place.get(a.first.unitId)! - place.get(b.first.unitId)!);
  return { units, ...(await tx.standings.summary()) };
}

/** Returns the rows of one unit, as `listDue` has them. */
export const listDueOf = async (tx: Tx, unitId: string, now: Instant): Promise<DueRow[]> =>
  (await rowsOf(tx, await tx.standings.listShown([unitId]), now)).sort(byDate);

/** Returns the rows of some units, as `listDue` has them. */
export const listDueOfMany = async (tx: Tx, unitIds: readonly string[], now: Instant): Promise<DueRow[]> =>
  (await rowsOf(tx, await tx.standings.listShown(unitIds), now)).sort(byDate);

/** Returns the rows of a few standings, in their order. */
async function rowsOf(tx: Tx, standings: readonly ShownStanding[], now: Instant): Promise<DueRow[]> {
  const { timeZone } = await getWorkshop(tx);
  const unitIds = [...new Set(standings.map(({ unitId }) => unitId))];
  const units = await bodiesOf(tx, 'unit', unitIds);
  const bikeIds = new Map(
    (await tx.facts.listMany('fitting', unitIds))
      .map((fact) => fittingOf(fact, timeZone))
      .filter((fitting) => fittingNow([fitting], now))
      .map(({ unitId, bikeId }) => [unitId, bikeId]),
  );
  const bikes = await bodiesOf(tx, 'bike', [...new Set(bikeIds.values())]);
  const riderIds = [...bikes.values()].map(({ riderId }) => riderId).filter((id) => id !== null);
  const riders = await tx.handles.listOf('rider', riderIds);
  const waiting = await tx.rides.sumAsking({ bikeIds: [...bikes.keys()], riderIds });
  return standings.flatMap((standing): DueRow[] => {
    const unit = units.get(standing.unitId);
    const bikeId = bikeIds.get(standing.unitId) ?? null;
    const bike = bikes.get(bikeId ?? '') ?? null;
    return unit ? [rowOf(standing, unit, { bikeId, bike }, riders, waiting)] : [];
  });
}

const bodiesOf = async <K extends 'unit' | 'bike'>(
  tx: Tx,
  kind: K,
  ids: readonly string[],
): Promise<Map<string, FactBodies[K]>> =>
  new Map((await tx.facts.listMany(kind, ids)).map(({ entityId, body }) => [entityId, body]));

/** Returns every unit and service kind, the earliest likely date first and pressing states before that. */
export const listDue = async (tx: Tx, now: Instant): Promise<DueRow[]> =>
  (await rowsOf(tx, await tx.standings.listShown('all'), now)).sort(byDate);

function rowOf(
  standing: ShownStanding,
  unit: UnitFact,
  { bikeId, bike }: { readonly bikeId: string | null; readonly bike: BikeFact | null },
  riders: ReadonlyMap<string, string>,
  waiting: Awaited<ReturnType<Tx['rides']['sumAsking']>>,
): DueRow {
  const waitingS = (waiting.ofBike.get(bikeId ?? '') ?? 0) + (waiting.ofRider.get(bike?.riderId ?? '') ?? 0);
  return {
    unitId: standing.unitId,
    unit: unit.tag,
    unitKind: unit.unitKind,
    model: unit.model,
    serviceKind: standing.serviceKind,
    bikeId,
    bike: bike?.handle ?? null,
    bikeName: bike?.name ?? null,
    riderId: bike?.riderId ?? null,
    rider: bike?.riderId ? (riders.get(bike.riderId) ?? null) : null,
    movingHoursSince: hoursOfSeconds(standing.movingS),
    terrainHoursSince: hoursOfThousandths(standing.terrainMs),
    waitingHours: hoursOfSeconds(seconds(waitingS)),
    interval: standing.interval,
    hoursLeft: standing.hoursLeft,
    state: standing.state,
    limit: standing.limit,
    likely: standing.likely,
    knownUpTo: standing.knownUpTo,
    expectedHoursSince: hoursOfThousandths(standing.expectedMs),
    declaredHours: hoursOfThousandths(standing.declaredMs ?? 0),
    asOf: standing.asOf,
  };
}

function byDate(a: DueRow, b: DueRow): number {
  const on = (row: DueRow): number =>
    row.likely.p50 === null ? Number.MAX_SAFE_INTEGER : dayNumber(row.likely.p50);
  return (
    pressingRank(a.state) - pressingRank(b.state) ||
    on(a) - on(b) ||
    (a.hoursLeft ?? 0) - (b.hoursLeft ?? 0) ||
    (`${a.unit} ${a.serviceKind}` < `${b.unit} ${b.serviceKind}` ? -1 : 1)
  );
}

/** Whether a row belongs on a list of what falls due by a day: likely by then, or pressing already. */
export const isDueBy = (row: DueRow, by: string): boolean =>
  PRESSING_STATES.includes(row.state) || (row.likely.p50 !== null && row.likely.p50 <= by);
