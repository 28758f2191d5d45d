import { addDays, dayOf, startOfDay } from '../../core/days/calendar.js';
import {
  type KnownForecasts,
  ridesNeededFrom,
  standingsOf,
  type UnitKnown,
} from '../../core/forecast/standings.js';
import type { CountedRide } from '../../core/ledger/ledger.js';
import type { RideHoursRow, RideRow } from '../../ports/rides.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import type { Deps } from '../deps.js';
import { listUnrecorded, toCountedRides } from '../rides/countedRides.js';
import { getWorkshop, listAddedKinds, listIntervalRules } from '../settings.js';
import { getUnitLedger } from '../unitLedger.js';

const UNITS_A_STEP = 20;

/** Returns all that the core needs to tell where a unit stands. */
export async function getUnitKnown(tx: Tx, unitId: string, asOf: Instant): Promise<UnitKnown> {
  const { timeZone: zone, noticeDays } = await getWorkshop(tx);
  const { mark, ...ledger } = await getUnitLedger(tx, unitId, zone);
  const rules = await listIntervalRules(tx, [unitId]);
  const addedKinds = await listAddedKinds(tx);
  return { ...ledger, hasCrashMark: mark !== null, rules, addedKinds, zone, noticeDays, asOf };
}

/** Returns the rides that the core needs to tell where the unit stands. */
export async function listRideRowsNeeded(tx: Tx, known: UnitKnown): Promise<RideRow[]> {
  const from = ridesNeededFrom(known);
  const rides: RideRow[] = [];
  for (const bikeId of known.bikes.keys()) rides.push(...(await tx.rides.listCounted(bikeId, from)));
  return rides;
}

/** The same as the core takes them, with what went unrecorded. */
export async function listRidesNeeded(tx: Tx, known: UnitKnown): Promise<CountedRide[]> {
  const from = ridesNeededFrom(known);
  const rides: RideHoursRow[] = [];
  for (const bikeId of known.bikes.keys()) rides.push(...(await tx.rides.listCountedHours(bikeId, from)));
  return toCountedRides(rides, await listUnrecorded(tx, known.bikes.keys(), known.zone));
}

/** Returns where a unit stands as rows; with `kept` its forecasts are kept and marked stale. */
export async function rebuildStandings(
  tx: Tx,
  unitId: string,
  asOf: Instant,
  kept?: KnownForecasts,
): Promise<StandingRow[]> {
  const known = await getUnitKnown(tx, unitId, asOf);
  const rides = await listRidesNeeded(tx, known);
  return standingsOf(known, rides, { ...(kept && { kept }) }).map(({ standing, forecast }) => ({
    ...standing,
    forecast,
    stale: kept !== undefined,
  }));
}

/** Brings a unit's hours and states up to date at once; its forecasts follow with the next refresh. A void one has none. */
export async function recountUnit(tx: Tx, unitId: string, now: Instant): Promise<void> {
  if (!(await tx.facts.current('unit', unitId))) return tx.standings.put(unitId, []);
  const before = await tx.standings.listOf(unitId);
  const kept = new Map(before.map((standing) => [standing.serviceKind, standing.forecast]));
  await tx.standings.put(unitId, await rebuildStandings(tx, unitId, now, kept));
}

/** The same for every unit that ever was on one of the bikes. */
export async function recountBikes(tx: Tx, bikeIds: Iterable<string>, now: Instant): Promise<void> {
  const unitIds = new Set<string>();
  for (const bikeId of new Set(bikeIds)) {
    for (const fitting of await tx.facts.list('fitting', { object: bikeId }))
      unitIds.add(fitting.body.unitId);
  }
  for (const unitId of unitIds) await recountUnit(tx, unitId, now);
}

type Refreshed = 'nothing' | 'some' | 'more';

/** Makes forecasts anew for some units that need it, and says whether there may be more. */
export async function refreshDueOnce({ store, clock }: Pick<Deps, 'store' | 'clock'>): Promise<Refreshed> {
  const now = clock.now();
  return store.write(async (tx) => {
    const workshop = (await tx.facts.list('workshop')).at(-1);
    if (!workshop) return 'nothing';
    const zone = workshop.body.timeZone;
    const today = dayOf(now, zone);
    const [from, to] = [startOfDay(today, zone), startOfDay(addDays(today, 1), zone)];
    const unitIds = await tx.standings.listUnitsToRefresh(from, to, UNITS_A_STEP);
    for (const unitId of unitIds) await tx.standings.put(unitId, await rebuildStandings(tx, unitId, now));
    if (unitIds.length === 0) return 'nothing';
    return unitIds.length === UNITS_A_STEP ? 'more' : 'some';
  });
}

/** Refreshes until nothing is left to do; true when anything was made anew. */
export async function refreshAllDue(deps: Pick<Deps, 'store' | 'clock'>): Promise<boolean> {
  let isNews = false;
  for (let step: Refreshed = 'more'; step === 'more'; ) {
    step = await refreshDueOnce(deps);
    isNews ||= step !== 'nothing';
  }
  return isNews;
}
