import { startOfDay } from '../core/days/calendar.js';
import type { Fact, FittingFact, ServiceFact } from '../core/ledger/facts.js';
import type { Bike, Fitting, Service, Unit } from '../core/ledger/ledger.js';
import { eveningOf, momentOf } from '../core/ledger/moment.js';
import { type Stay, stayOf } from '../core/ledger/stay.js';
import type { Departure, Membership } from '../core/ledger/whereabouts.js';
import type { ServiceKind, UnitKind } from '../core/tokens.js';
import { ServiceError } from '../errors.js';
import type { Tx } from '../ports/store.js';
import { day, type Instant } from '../units.js';

/** All that is known of one unit, corrections applied. */
export interface UnitLedger {
  readonly unit: Unit;
  readonly fittings: readonly Fitting[];
  readonly services: readonly Service[];
  /** Every bike that it was ever on. */
  readonly bikes: ReadonlyMap<string, Bike>;
  /** The crash mark in force. */
  readonly mark: Fact<'mark'> | null;
  /** Fleets that it was said to belong to, in order of entry. */
  readonly memberships: readonly Membership[];
  /** That it left, or came back, in order of entry. */
  readonly departures: readonly Departure[];
  /** Its stay at the workshop that has not ended. */
  readonly stay: Stay | null;
  /** In which its days are. */
  readonly zone: string;
}

export const unitOf = (fact: Fact<'unit'>): Unit => ({ id: fact.entityId, ...fact.body });
type Clocks = Fact<'clocks'>;

const broughtTo = (unitKind: UnitKind, { body }: Clocks): readonly ServiceKind[] =>
  body.kinds.filter((kind) => kind.unitKind === unitKind).map(({ name }) => name);

/** A unit that came after the clocks were brought has them from its own beginning. */
function withBrought(fact: Fact<'unit'>, clocks: Clocks | undefined): Unit {
  const unit = unitOf(fact);
  if (clocks === undefined || fact.since > clocks.since) return unit;
  const kinds = broughtTo(unit.unitKind, clocks);
  return kinds.length === 0 ? unit : { ...unit, broughtClocks: { on: clocks.body.on, kinds } };
}

/** A full service from before renewed what these clocks count. */
function withClocks(service: Service, unitKind: UnitKind, clocks: Clocks): Service {
  if (!service.restarts.includes('full') || service.recordedAt > clocks.since) return service;
  return { ...service, restarts: [...new Set([...service.restarts, ...broughtTo(unitKind, clocks)])] };
}

export const bikeOf = (fact: Fact<'bike'>): Bike => ({ id: fact.entityId, ...fact.body });

export function fittingOf(fact: Fact<'fitting'>, zone: string): Fitting {
  const { unitId, bikeId, from, to }: FittingFact = fact.body;
  const start = momentOf(from, zone) ?? startOfDay(day(from), zone);
  const end = to === null ? null : momentOf(to, zone);
  const seenFrom = seenEarlier(start, fact, zone);
  const seenTo = end === null ? null : seenEarlier(end, fact, zone);
  return {
    id: fact.entityId,
    unitId,
    bikeId,
    from: start,
    to: end,
    ...(seenFrom === null ? {} : { seenFrom }),
    ...(seenTo === null ? {} : { seenTo }),
  };
}

/** From when on a change after a day's last ride is seen: on that day already, unless it was typed ahead. */
function seenEarlier(at: Instant, { recordedAt }: Fact, zone: string): Instant | null {
  const evening = eveningOf(at, zone);
  const morning = evening && startOfDay(evening, zone);
  return morning !== null && recordedAt >= morning ? morning : null;
}

/** Shape: `place` is that among the unit's services in order of entry, which a correction does not change. */
function serviceOf(fact: Fact<'service'>, place: number): Service {
  const { unitId, serviceKind, on, restarts, by, findings }: ServiceFact = fact.body;
  return {
    id: fact.entityId,
    unitId,
    serviceKind,
    on,
    restarts,
    by,
    findings,
    recordedAt: fact.since,
    seq: place,
  };
}

export async function getBike(tx: Tx, bikeId: string): Promise<Bike> {
  const fact = await tx.facts.current('bike', bikeId);
  if (!fact) throw new ServiceError('not-found', `There is no bike ${bikeId}.`);
  return bikeOf(fact);
}

/** Errors: `not-found`. */
export async function getUnit(tx: Tx, unitId: string): Promise<Unit> {
  const [clocks] = await tx.facts.list('clocks');
  return withBrought(await getUnitFact(tx, unitId), clocks);
}

async function getUnitFact(tx: Tx, unitId: string): Promise<Fact<'unit'>> {
  const fact = await tx.facts.current('unit', unitId);
  if (fact) return fact;
  throw new ServiceError('not-found', `There is no unit ${unitId}.`);
}

export const getUnitLedger = (tx: Tx, unitId: string, zone: string): Promise<UnitLedger> =>
  tx.facts.once(`ledger of ${unitId} in ${zone}`, () => makeUnitLedger(tx, unitId, zone));

async function makeUnitLedger(tx: Tx, unitId: string, zone: string): Promise<UnitLedger> {
  const unit = await getUnitFact(tx, unitId);
  const fittings = (await tx.facts.list('fitting', { subject: unitId })).map((fact) => fittingOf(fact, zone));
  const bikes = new Map<string, Bike>();
  for (const { bikeId } of fittings) if (!bikes.has(bikeId)) bikes.set(bikeId, await getBike(tx, bikeId));
  const mark = (await tx.facts.list('mark', { subject: unitId })).at(-1);
  const jobs = await tx.facts.list('job', { subject: unitId });
  const benches = await tx.facts.list('bench', { subject: unitId });
  const [clocks] = await tx.facts.list('clocks');
  const services = (await tx.facts.list('service', { subject: unitId })).map(serviceOf);
  return {
    unit: withBrought(unit, clocks),
    fittings,
    services:
      clocks === undefined ? services : services.map((one) => withClocks(one, unit.body.unitKind, clocks)),
    bikes,
    memberships: (await tx.facts.list('membership', { subject: unitId })).map(({ body }) => body),
    departures: (await tx.facts.list('gone', { subject: unitId })).map(({ body }) => body),
    mark: mark?.body.stop ? mark : null,
    stay: stayOf(jobs, benches, zone),
    zone,
  };
}
