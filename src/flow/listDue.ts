import { dayNumber } from '../core/dayNumber.js';
import type { Interval, Likely } from '../core/due.js';
import type { Fitting } from '../core/ledger.js';
import { type Limit, type ServiceKind, STATES, type State, type UnitKind } from '../core/tokens.js';
import type { RideRow, Tx } from '../ports.js';
import { hoursOfSeconds, hoursOfThousandths, type Instant, seconds } from '../units.js';
import { getWorkshop } from './settings.js';
import { fittingAt, fittingOf } from './unitLedger.js';

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
  readonly waitingHours: number;
  readonly interval: Interval;
  readonly hoursLeft: number | null;
  readonly state: State;
  readonly limit: Limit;
  readonly likely: Likely;
  readonly asOf: Instant;
}

/** Returns every unit and service kind, the earliest likely date first and pressing states before that. */
export async function listDue(tx: Tx, now: Instant): Promise<DueRow[]> {
  const { timeZone } = await getWorkshop(tx);
  const units = new Map((await tx.facts.list('unit')).map((fact) => [fact.entityId, fact.body]));
  const bikes = new Map((await tx.facts.list('bike')).map((fact) => [fact.entityId, fact.body]));
  const riders = await tx.handles.all('rider');
  const fittings = new Map<string, Fitting[]>();
  for (const fact of await tx.facts.list('fitting')) {
    const fitting = fittingOf(fact, timeZone);
    fittings.set(fitting.unitId, [...(fittings.get(fitting.unitId) ?? []), fitting]);
  }
  const waiting = await tx.rides.listAsking();
  const rows = (await tx.standings.list()).flatMap((standing): DueRow[] => {
    const unit = units.get(standing.unitId);
    if (!unit) return [];
    const bikeId = fittingAt(fittings.get(standing.unitId) ?? [], now)?.bikeId ?? null;
    const bike = bikeId === null ? null : (bikes.get(bikeId) ?? null);
    return [
      {
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
        waitingHours: waitingHoursOf(waiting, bikeId, bike?.riderId ?? null),
        interval: standing.interval,
        hoursLeft: standing.hoursLeft,
        state: standing.state,
        limit: standing.limit,
        likely: standing.likely,
        asOf: standing.asOf,
      },
    ];
  });
  return rows.sort(byDate);
}

/** What waits in the tray for this bike, or for this rider with no bike yet. */
function waitingHoursOf(waiting: readonly RideRow[], bikeId: string | null, riderId: string | null): number {
  const own = waiting.filter(
    (ride) =>
      (bikeId !== null && ride.bikeId === bikeId) ||
      (riderId !== null && ride.bikeId === null && ride.riderId === riderId),
  );
  return hoursOfSeconds(seconds(own.reduce((sum, ride) => sum + ride.movingS, 0)));
}

const PRESSING: readonly State[] = STATES.filter((state) => state !== 'coming-up' && state !== 'in-time');

function byDate(a: DueRow, b: DueRow): number {
  const rank = (row: DueRow): number =>
    PRESSING.includes(row.state) ? STATES.indexOf(row.state) : PRESSING.length;
  const on = (row: DueRow): number =>
    row.likely.p50 === null ? Number.MAX_SAFE_INTEGER : dayNumber(row.likely.p50);
  return (
    rank(a) - rank(b) ||
    on(a) - on(b) ||
    (a.hoursLeft ?? 0) - (b.hoursLeft ?? 0) ||
    (`${a.unit} ${a.serviceKind}` < `${b.unit} ${b.serviceKind}` ? -1 : 1)
  );
}

/** Whether a row belongs on a list of what falls due by a day: likely by then, or pressing already. */
export const isDueBy = (row: DueRow, by: string): boolean =>
  PRESSING.includes(row.state) || (row.likely.p50 !== null && row.likely.p50 <= by);
