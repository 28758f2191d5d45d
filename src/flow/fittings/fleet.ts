import { dayOf } from '../../core/days/calendar.js';
import { fleetsOf } from '../../core/ledger/bikeFleet.js';
import type { Fact, ServiceFact } from '../../core/ledger/facts.js';
import { type Bike, type Fitting, fittingNow, type Unit } from '../../core/ledger/ledger.js';
import { type Belonging, fleetOf, type Gone, goneOn } from '../../core/ledger/whereabouts.js';
import { naturalOrder } from '../../core/naturalOrder.js';
import { pressingRank } from '../../core/states.js';
import type { ServiceKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getIdOf } from '../names.js';
import { getWorkshop } from '../settings.js';
import { bikeOf, fittingOf, unitOf } from '../unitLedger.js';

export interface FleetUnit {
  readonly unit: Unit;
  /** The fleet's bike that it is on; null for a spare. */
  readonly bike: Bike | null;
  /** Another bike that it is on, and until when where it is on loan; null where it is on none. */
  readonly elsewhere: { readonly bike: string; readonly until: Day | null } | null;
  /** The fewest hours left lead. */
  readonly standings: readonly StandingRow[];
  /** The latest that was done; null where none is written down. */
  readonly lastService: { readonly serviceKind: ServiceKind; readonly on: Day } | null;
  /** Why it is not to be ridden; null where nobody said so. */
  readonly stopped: string | null;
}

export interface Fleet {
  readonly id: string;
  readonly handle: string;
  readonly name: string;
  readonly bikes: readonly Bike[];
  /** Those on a bike first, in order of bikes; then the spares by tag. */
  readonly units: readonly FleetUnit[];
}

export const listFleetFacts = async (tx: Tx): Promise<Fact<'fleet'>[]> =>
  [...(await tx.facts.list('fleet'))].sort((a, b) => (a.body.name < b.body.name ? -1 : 1));

/** Returns the fleet of a unit, see `fleetOf`; null where it has none. */
export async function fleetIdOfUnit(tx: Tx, unitId: string, now: Instant): Promise<string | null> {
  const { timeZone } = await getWorkshop(tx);
  return fleetOf(await belongingOf(tx, unitId, timeZone), now, timeZone);
}

async function belongingOf(tx: Tx, unitId: string, zone: string): Promise<Belonging> {
  const fittings = (await tx.facts.list('fitting', { subject: unitId })).map((one) => fittingOf(one, zone));
  const bikeIds = [...new Set(fittings.map(({ bikeId }) => bikeId))];
  return {
    memberships: (await tx.facts.list('membership', { subject: unitId })).map(({ body }) => body),
    fittings,
    bikes: new Map((await tx.facts.listMany('bike', bikeIds)).map(({ entityId, body }) => [entityId, body])),
  };
}

/** Returns how a unit is gone for good; null while it is there. */
export async function findGone(tx: Tx, unitId: string, now: Instant): Promise<Gone | null> {
  const { timeZone } = await getWorkshop(tx);
  const departures = (await tx.facts.list('gone', { subject: unitId })).map(({ body }) => body);
  return goneOn(departures, dayOf(now, timeZone));
}

export const listFleetBikes = async (tx: Tx, fleetId: string): Promise<Bike[]> =>
  (await tx.facts.listFleetBikes())
    .filter(({ body }) => body.fleetId === fleetId)
    .map(bikeOf)
    .sort((a, b) => naturalOrder(a.name, b.name) || naturalOrder(a.handle, b.handle));

/** A unit that came off such a bike while it was the fleet's is the fleet's still. */
const listBikesEverOf = async (tx: Tx, fleetId: string): Promise<Bike[]> =>
  (await tx.facts.listFleetBikes()).filter(({ body }) => fleetsOf(body).includes(fleetId)).map(bikeOf);

/** Returns a fleet with its bikes and units, spares too. Errors: `not-found`. */
export async function getFleet(tx: Tx, fleetId: string, now: Instant): Promise<Fleet> {
  const fact = await tx.facts.current('fleet', fleetId);
  if (!fact) throw new ServiceError('not-found', 'There is no such fleet.');
  const bikes = await listFleetBikes(tx, fleetId);
  const places = new Map(bikes.map((bike, place) => [bike.id, place]));
  const units: FleetUnit[] = [];
  const everIn = new Set([
    ...(await listUnitsEverOn(tx, await listBikesEverOf(tx, fleetId))),
    ...(await tx.facts.list('membership', { object: fleetId })).map(({ body }) => body.unitId),
  ]);
  const { timeZone } = await getWorkshop(tx);
  for (const unitId of everIn) {
    const belonging = await belongingOf(tx, unitId, timeZone);
    if (fleetOf(belonging, now, timeZone) !== fleetId || (await findGone(tx, unitId, now)) !== null) continue;
    units.push(await fleetUnitOf(tx, unitId, bikes, now));
  }
  const placeOf = ({ bike }: FleetUnit): number => (bike === null ? bikes.length : places.get(bike.id)!);
  return {
    id: fleetId,
    ...fact.body,
    bikes,
    units: units.sort((a, b) => placeOf(a) - placeOf(b) || naturalOrder(a.unit.tag, b.unit.tag)),
  };
}

/** A fleet as a list has it. */
export interface ListedFleet {
  readonly handle: string;
  readonly name: string;
  /** How many. */
  readonly bikes: number;
}

export async function listFleets(tx: Tx): Promise<ListedFleet[]> {
  const bikes = await tx.facts.listFleetBikes();
  return (await listFleetFacts(tx)).map(({ entityId, body: { handle, name } }) => ({
    ...{ handle, name },
    bikes: bikes.filter(({ body }) => body.fleetId === entityId).length,
  }));
}

/** What a fleet's page shows. */
export interface FleetPage {
  readonly fleet: Fleet;
  /** How many rides wait for a person's word, by bike. */
  readonly waiting: ReadonlyMap<string, number>;
}

/** Errors: `not-found`. */
export async function getFleetPage(tx: Tx, handle: string, now: Instant): Promise<FleetPage> {
  const fleet = await getFleetByName(tx, handle, now);
  return { fleet, waiting: await tx.rides.countAskingOn(fleet.bikes.map(({ id }) => id)) };
}

/** Errors: `not-found`. */
export const getFleetByName = async (tx: Tx, handle: string, now: Instant): Promise<Fleet> =>
  getFleet(tx, await getIdOf(tx, 'fleet', handle), now);

async function listUnitsEverOn(tx: Tx, bikes: readonly Bike[]): Promise<Set<string>> {
  const unitIds = new Set<string>();
  for (const { id } of bikes)
    for (const fitting of await tx.facts.list('fitting', { object: id })) unitIds.add(fitting.body.unitId);
  return unitIds;
}

async function fleetUnitOf(tx: Tx, unitId: string, bikes: readonly Bike[], now: Instant): Promise<FleetUnit> {
  const { timeZone } = await getWorkshop(tx);
  const facts = await tx.facts.list('fitting', { subject: unitId });
  const on = fittingNow(
    facts.map((one) => fittingOf(one, timeZone)),
    now,
  );
  const bike = bikes.find(({ id }) => id === on?.bikeId) ?? null;
  const mark = (await tx.facts.list('mark', { subject: unitId })).at(-1);
  const services = (await tx.facts.list('service', { subject: unitId })).map(({ body }) => body);
  const last = services.reduce<ServiceFact | null>(
    (one, next) => (one && one.on > next.on ? one : next),
    null,
  );
  return {
    unit: unitOf((await tx.facts.current('unit', unitId))!),
    bike,
    elsewhere: on === undefined || bike !== null ? null : await elsewhereOf(tx, facts, on),
    standings: [...(await tx.standings.listOf(unitId))].sort(byNearness),
    lastService: last && { serviceKind: last.serviceKind, on: last.on },
    stopped: mark?.body.stop ? mark.body.why : null,
  };
}

async function elsewhereOf(
  tx: Tx,
  facts: readonly Fact<'fitting'>[],
  { id, bikeId }: Fitting,
): Promise<FleetUnit['elsewhere']> {
  const bike = (await tx.facts.current('bike', bikeId))?.body.name ?? '';
  return { bike, until: facts.find(({ entityId }) => entityId === id)?.body.loanUntil ?? null };
}

/** What presses first, then the fewest hours left; what has months alone, by its date. */
function byNearness(a: StandingRow, b: StandingRow): number {
  const left = ({ hoursLeft }: StandingRow): number => hoursLeft ?? Number.MAX_SAFE_INTEGER;
  const likely = ({ likely: { p50 } }: StandingRow): string => p50 ?? '9999';
  return (
    pressingRank(a.state) - pressingRank(b.state) || left(a) - left(b) || (likely(a) < likely(b) ? -1 : 1)
  );
}

/** Compares units of a fleet: marked, then what presses, then the fewest hours left. */
export function byTightness(a: FleetUnit, b: FleetUnit): number {
  const marked = ({ stopped }: FleetUnit): number => (stopped === null ? 1 : 0);
  const [one, other] = [a.standings[0], b.standings[0]];
  const near =
    one && other ? byNearness(one, other) : Number(one === undefined) - Number(other === undefined);
  const isTie = !one || !other || (one.state === other.state && one.hoursLeft === other.hoursLeft);
  return marked(a) - marked(b) || (isTie ? naturalOrder(a.unit.tag, b.unit.tag) : near);
}
