import { addDays, dayOf, startOfDay } from '../../core/days/calendar.js';
import type { HandingOver } from '../../core/forecast/knownUpTo.js';
import {
  type Foreseen,
  type KnownForecasts,
  ridesNeededFrom,
  standingsOf,
} from '../../core/forecast/standings.js';
import { bikeNow, ridingOf, type UnitKnown } from '../../core/forecast/unitRiding.js';
import { type CountedRide, fittingNow } from '../../core/ledger/ledger.js';
import type { RideHoursRow, RideRow } from '../../ports/rides.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import type { Deps } from '../deps.js';
import {
  listDeclared,
  listFiles,
  listUnrecorded,
  toCountedRides,
  toDeclaredRides,
} from '../rides/countedRides.js';
import { getWorkshop, listAddedKinds, listIntervalRules } from '../settings.js';
import { fittingOf, getUnitLedger } from '../unitLedger.js';

const UNITS_A_STEP = 20;

/** Returns all that the core needs to tell where a unit stands. */
export async function getUnitKnown(tx: Tx, unitId: string, asOf: Instant): Promise<UnitKnown> {
  const { timeZone: zone, noticeDays } = await getWorkshop(tx);
  const { mark, stay, ...ledger } = await getUnitLedger(tx, unitId, zone);
  const rules = await listIntervalRules(tx, [unitId]);
  const addedKinds = await listAddedKinds(tx);
  const comingUp = (await tx.facts.list('comingUp', { subject: unitId })).map((fact) => fact.body);
  const files = await listOwnersFiles(tx, ledger, zone, asOf);
  const declared = await listDeclared(tx, ledger.bikes.values(), asOf, zone);
  const stands = { hasCrashMark: mark !== null, isOnBench: stay !== null, comingUp, files, declared };
  return { ...ledger, ...stands, rules, addedKinds, zone, noticeDays, asOf };
}

/** Of the rider whose bike the unit is on, or of the bike where that is nobody's; none of a boxed one. */
async function listOwnersFiles(
  tx: Tx,
  { fittings, bikes }: Pick<UnitKnown, 'fittings' | 'bikes'>,
  zone: string,
  asOf: Instant,
): Promise<HandingOver[]> {
  const bikeId = fittingNow(fittings, asOf)?.bikeId;
  if (bikeId === undefined) return [];
  const riderId = bikes.get(bikeId)?.riderId ?? null;
  return listFiles(tx, riderId === null ? { bikeId } : { riderId }, asOf, zone);
}

/** Returns the rides that the core needs to tell where the unit stands. */
export async function listRideRowsNeeded(tx: Tx, known: UnitKnown): Promise<RideRow[]> {
  const from = ridesNeededFrom(known);
  const rides: RideRow[] = [];
  for (const bikeId of known.bikes.keys()) rides.push(...(await tx.rides.listCounted(bikeId, from)));
  return rides;
}

/** The same as the core takes them, with what went unrecorded and what is declared. */
export async function listRidesNeeded(tx: Tx, known: UnitKnown): Promise<CountedRide[]> {
  const from = ridesNeededFrom(known);
  const rides: RideHoursRow[] = [];
  for (const bikeId of known.bikes.keys()) rides.push(...(await tx.rides.listCountedHours(bikeId, from)));
  const counted = toCountedRides(rides, await listUnrecorded(tx, known.bikes.keys(), known.zone));
  return [...counted, ...toDeclaredRides(known.declared ?? [], from, known.asOf)];
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
  return rowsOf(known, rides, kept === undefined ? {} : { kept });
}

const rowsOf = (known: UnitKnown, rides: readonly CountedRide[], foreseen: Foreseen): StandingRow[] =>
  standingsOf(known, rides, foreseen).map(({ standing, forecast }) => ({
    ...standing,
    forecast,
    stale: foreseen.kept !== undefined,
  }));

/** Who enters what the program finds out itself. */
const BY_ITSELF = 'stanchion';

/**
 * Stores where a unit stands. The first day on which a service period comes up is stored as a fact, whether or not
 * anybody can be told. A forecast made anew that finds the rule false on that day takes the fact back.
 */
async function putStandings(
  tx: Tx,
  unitId: string,
  rows: readonly StandingRow[],
  { zone, at }: { readonly zone: string; readonly at: Instant },
): Promise<void> {
  await tx.standings.put(unitId, rows);
  const there = await tx.facts.list('comingUp', { subject: unitId });
  for (const { serviceKind, periodId, state, stale, knownUpTo, forecast } of rows) {
    const fact = there.find(({ body }) => body.serviceKind === serviceKind && body.periodId === periodId);
    const on = dayOf(at, zone);
    const filesBy = forecast.since?.filesBy ?? on;
    const body = { unitId, serviceKind, periodId, on, knownUpTo: knownUpTo ?? on, filesBy };
    if (state === 'coming-up' && !fact) await tx.facts.add({ kind: 'comingUp', body, by: BY_ITSELF, at });
    if (state === 'in-time' && fact && !stale)
      await tx.facts.void(fact.id, BY_ITSELF, at, 'it does not come up by what is known now');
  }
}

/** Brings a unit's hours and states up to date at once; its forecasts follow with the next refresh. A void one has none. */
export async function recountUnit(tx: Tx, unitId: string, now: Instant): Promise<void> {
  if (!(await tx.facts.current('unit', unitId))) return tx.standings.put(unitId, []);
  const before = await tx.standings.listOf(unitId);
  const kept = new Map(before.map((standing) => [standing.serviceKind, standing.forecast]));
  const { timeZone: zone } = await getWorkshop(tx);
  await putStandings(tx, unitId, await rebuildStandings(tx, unitId, now, kept), { zone, at: now });
}

/**
 * The same for every unit that ever was on one of the bikes. To what day a rider's files are known bears on the
 * forecasts of their other bikes too.
 */
export async function recountBikes(tx: Tx, bikeIds: Iterable<string>, now: Instant): Promise<void> {
  const changed = new Set(bikeIds);
  const unitIds = await listUnitsOn(tx, changed);
  for (const unitId of unitIds) await recountUnit(tx, unitId, now);
  const others = new Set<string>();
  for (const bikeId of changed) {
    const riderId = (await tx.facts.current('bike', bikeId))?.body.riderId ?? null;
    if (riderId === null) continue;
    for (const bike of await tx.facts.list('bike', { object: riderId }))
      if (!changed.has(bike.entityId)) others.add(bike.entityId);
  }
  // Whether files come decides whether what is declared of the other bikes counts.
  const declared = new Set((await tx.facts.listMany('declared', [...others])).map(({ body }) => body.bikeId));
  const recounted = [...(await listUnitsOn(tx, declared))].filter((id) => !unitIds.has(id));
  for (const unitId of recounted) await recountUnit(tx, unitId, now);
  const left = [...(await listUnitsOn(tx, others))].filter((id) => !unitIds.has(id));
  await tx.standings.markStale(left.filter((id) => !recounted.includes(id)));
}

async function listUnitsOn(tx: Tx, bikeIds: Iterable<string>): Promise<Set<string>> {
  const unitIds = new Set<string>();
  for (const bikeId of bikeIds)
    for (const { body } of await tx.facts.list('fitting', { object: bikeId })) unitIds.add(body.unitId);
  return unitIds;
}

/** Makes the forecasts of a unit anew and of all others on its bike: its riding is foreseen once. */
async function refreshWithMates(tx: Tx, unitId: string, now: Instant, made: Set<string>): Promise<void> {
  const first = await getUnitKnown(tx, unitId, now);
  const riding = ridingOf(first, await listRidesNeeded(tx, first));
  for (const mate of [unitId, ...(await listMates(tx, first, now))]) {
    const known = mate === unitId ? first : await getUnitKnown(tx, mate, now);
    const rows = rowsOf(known, await listRidesNeeded(tx, known), { riding });
    await putStandings(tx, mate, rows, { zone: known.zone, at: now });
    made.add(mate);
  }
}

/** Returns the other units that are on the unit's bike now. */
async function listMates(tx: Tx, known: UnitKnown, now: Instant): Promise<string[]> {
  const bikeId = bikeNow(known);
  if (bikeId === null) return [];
  const fittings = (await tx.facts.list('fitting', { object: bikeId })).map((one) =>
    fittingOf(one, known.zone),
  );
  const unitIds = new Set(fittings.map((fitting) => fitting.unitId));
  return [...unitIds].filter(
    (id) =>
      id !== known.unit.id &&
      fittingNow(
        fittings.filter((fitting) => fitting.unitId === id),
        now,
      ) !== undefined,
  );
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
    const made = new Set<string>();
    for (const unitId of unitIds) if (!made.has(unitId)) await refreshWithMates(tx, unitId, now, made);
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
