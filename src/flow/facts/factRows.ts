/** Facts as rows of a file and back: inside stand random ids, outside the workshop's own handles. */
import type { FormerFleet } from '../../core/ledger/bikeFleet.js';
import type { Fact, FactBodies, FactKind } from '../../core/ledger/facts.js';
import { momentOf } from '../../core/ledger/moment.js';
import type { HandleKind } from '../../ports/handles.js';
import type { Tx } from '../../ports/store.js';
import { isoTime } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { usualRestarts } from './enterFacts.js';
import type { RowKind, Rows } from './ledgerDocument.js';

/** Kinds whose facts are rows; a rider's row is in the contacts. */
export type FactRowKind = Exclude<RowKind, 'rider'> & FactKind;

/** Returns the handle of what an id stands for. */
export type HandleOf = (kind: HandleKind, id: string) => string;

/** Returns the id that a handle stands for; `key` names where it was said. Errors: as the caller tells them. */
export type Resolve = (kind: HandleKind, handle: string, key: string) => Promise<string>;

/** Returns the handles of all there is. */
export async function loadHandles(tx: Tx): Promise<HandleOf> {
  const known = {
    rider: await tx.handles.all('rider'),
    bike: await tx.handles.all('bike'),
    unit: await tx.handles.all('unit'),
    fleet: await tx.handles.all('fleet'),
    race: await tx.handles.all('race'),
  };
  return (kind, id) => known[kind].get(id) ?? id;
}

type ToRow<K extends FactRowKind> = (body: FactBodies[K], of: HandleOf) => Rows[K];

const orNull = <T>(value: T | null, make: (value: T) => string): string | null =>
  value === null ? null : make(value);

const TO_ROW: { readonly [K in FactRowKind]: ToRow<K> } = {
  workshop: ({ handle, ...rest }) => ({ id: handle, ...rest }),
  weights: (body) => body,
  fleet: ({ handle, ...rest }) => ({ id: handle, ...rest }),
  bike: ({ handle, riderId, fleetId, formerFleets, ...rest }, of) => ({
    id: handle,
    rider: orNull(riderId, (id) => of('rider', id)),
    fleet: orNull(fleetId, (id) => of('fleet', id)),
    ...(formerFleets && {
      formerFleets: formerFleets.map(({ fleetId: former, until }) => ({
        fleet: orNull(former, (id) => of('fleet', id)),
        until,
      })),
    }),
    ...rest,
  }),
  unit: ({ riderId, ...rest }, of) => ({ ...rest, ...(riderId && { rider: of('rider', riderId) }) }),
  sheet: ({ scope: { unitId, ...scope }, ...rest }, of) => ({
    ...rest,
    scope: { ...scope, unit: orNull(unitId, (id) => of('unit', id)) },
  }),
  serviceKind: (body) => body,
  clocks: (body) => body,
  interval: ({ scope: { fleetId, model, unitId }, ...rest }, of) => ({
    ...rest,
    scope: {
      fleet: orNull(fleetId, (id) => of('fleet', id)),
      model,
      unit: orNull(unitId, (id) => of('unit', id)),
    },
  }),
  fitting: ({ unitId, bikeId, ...rest }, of) => ({
    unit: of('unit', unitId),
    bike: of('bike', bikeId),
    ...rest,
  }),
  membership: ({ unitId, fleetId, from }, of) => ({
    unit: of('unit', unitId),
    fleet: orNull(fleetId, (id) => of('fleet', id)),
    from,
  }),
  gone: ({ unitId, ...rest }, of) => ({ unit: of('unit', unitId), ...rest }),
  service: ({ unitId, ...rest }, of) => ({ unit: of('unit', unitId), ...rest }),
  hours: ({ bikeId, ...rest }, of) => ({ bike: of('bike', bikeId), ...rest }),
  hire: ({ bikeId, ...rest }, of) => ({ bike: of('bike', bikeId), ...rest }),
  unrecorded: ({ bikeId, ...rest }, of) => ({ bike: of('bike', bikeId), ...rest }),
  declared: ({ bikeId, ...rest }, of) => ({ bike: of('bike', bikeId), ...rest }),
  race: ({ handle, bikeIds, ...rest }, of) => ({
    id: handle,
    ...rest,
    bikes: bikeIds.map((id) => of('bike', id)),
  }),
  part: (body) => body,
  shelf: (body) => body,
  mark: ({ unitId, ...rest }, of) => ({ unit: of('unit', unitId), ...rest }),
  inspection: ({ unitId, ...rest }, of) => ({ unit: of('unit', unitId), ...rest }),
  bench: ({ unitId, ...rest }, of) => ({ unit: of('unit', unitId), ...rest }),
  job: ({ unitId, ...rest }, of) => ({ unit: of('unit', unitId), ...rest }),
  claim: ({ unitId, ...rest }, of) => ({ unit: of('unit', unitId), ...rest }),
  answer: ({ riderId, bikeId, ride, on, minutes, wet, climbs }, of) => ({
    rider: orNull(riderId ?? null, (id) => of('rider', id)),
    bike: orNull(bikeId ?? null, (id) => of('bike', id)),
    ride: ride ?? null,
    on: orNull(on ?? null, isoTime),
    minutes: minutes ?? null,
    ...(wet === undefined ? {} : { wet }),
    ...(climbs && { climbs }),
  }),
};

export const isRowKind = (kind: FactKind): kind is FactRowKind => kind in TO_ROW;

export const rowOfBody = <K extends FactRowKind>(kind: K, body: FactBodies[K], of: HandleOf): Rows[K] =>
  (TO_ROW[kind] as ToRow<K>)(body, of);

type ToBody<K extends FactRowKind> = (
  row: Rows[K],
  resolve: Resolve,
  /** What is corrected; null for a new one. */
  before: FactBodies[K] | null,
  tx: Tx,
) => Promise<FactBodies[K]> | FactBodies[K];

const TO_BODY: { readonly [K in FactRowKind]: ToBody<K> } = {
  workshop: ({ id, ...rest }) => ({ handle: id, ...rest }),
  weights: (row) => row,
  fleet: ({ id, ...rest }) => ({ handle: id, ...rest }),
  bike: async ({ id, rider, fleet, formerFleets, ...rest }, resolve, _before, tx) => ({
    handle: id,
    riderId: rider === null ? null : await resolve('rider', rider, 'rider'),
    fleetId: fleet === null ? null : await resolve('fleet', fleet, 'fleet'),
    ...(formerFleets && { formerFleets: await formerOf(tx, formerFleets, resolve) }),
    ...rest,
  }),
  unit: async ({ rider, ...rest }, resolve) => ({
    ...rest,
    ...(rider && { riderId: await resolve('rider', rider, 'rider') }),
  }),
  sheet: async ({ scope: { unit, ...scope }, ...rest }, resolve) => ({
    ...rest,
    scope: { ...scope, unitId: unit === null ? null : await resolve('unit', unit, 'scope.unit') },
  }),
  serviceKind: (row) => row,
  clocks: (row) => row,
  interval: async ({ scope, ...rest }, resolve) => ({
    ...rest,
    scope: {
      fleetId: scope.fleet === null ? null : await resolve('fleet', scope.fleet, 'scope.fleet'),
      model: scope.model,
      unitId: scope.unit === null ? null : await resolve('unit', scope.unit, 'scope.unit'),
    },
  }),
  fitting: async ({ unit, bike, ...rest }, resolve) => ({
    unitId: await resolve('unit', unit, 'unit'),
    bikeId: await resolve('bike', bike, 'bike'),
    ...rest,
  }),
  membership: async ({ unit, fleet, from }, resolve) => ({
    unitId: await resolve('unit', unit, 'unit'),
    fleetId: fleet === null ? null : await resolve('fleet', fleet, 'fleet'),
    from,
  }),
  gone: async ({ unit, ...rest }, resolve) => ({ unitId: await resolve('unit', unit, 'unit'), ...rest }),
  service: async ({ unit, restarts, ...rest }, resolve, _before, tx) => {
    const row = { unitId: await resolve('unit', unit, 'unit'), ...rest };
    return { ...row, restarts: restarts ?? (await usualRestarts(tx, row)) };
  },
  hours: async ({ bike, ...rest }, resolve) => ({ bikeId: await resolve('bike', bike, 'bike'), ...rest }),
  hire: async ({ bike, ...rest }, resolve) => ({ bikeId: await resolve('bike', bike, 'bike'), ...rest }),
  unrecorded: async ({ bike, ...rest }, resolve) => ({
    bikeId: await resolve('bike', bike, 'bike'),
    ...rest,
  }),
  declared: async ({ bike, ...rest }, resolve) => ({
    bikeId: await resolve('bike', bike, 'bike'),
    ...rest,
  }),
  race: async ({ id, bikes, ...rest }, resolve) => {
    const bikeIds: string[] = [];
    for (const [i, bike] of bikes.entries()) bikeIds.push(await resolve('bike', bike, `bikes[${i}]`));
    return { handle: id, ...rest, bikeIds };
  },
  part: (row) => row,
  shelf: (row) => row,
  mark: async ({ unit, ...rest }, resolve) => ({ unitId: await resolve('unit', unit, 'unit'), ...rest }),
  inspection: async ({ unit, ...rest }, resolve) => ({
    unitId: await resolve('unit', unit, 'unit'),
    ...rest,
  }),
  bench: async ({ unit, ...rest }, resolve) => ({ unitId: await resolve('unit', unit, 'unit'), ...rest }),
  job: async ({ unit, ...rest }, resolve) => ({ unitId: await resolve('unit', unit, 'unit'), ...rest }),
  claim: async ({ unit, ...rest }, resolve) => ({ unitId: await resolve('unit', unit, 'unit'), ...rest }),
  answer: async ({ rider, bike, ride, on, minutes, wet, climbs }, resolve, before) => ({
    readingId: before!.readingId,
    ...(rider === null ? {} : { riderId: await resolve('rider', rider, 'rider') }),
    ...(bike === null ? {} : { bikeId: await resolve('bike', bike, 'bike') }),
    ...(ride === null ? {} : { ride }),
    ...(on === null ? {} : { on: momentOf(on, 'Etc/UTC')! }),
    ...(minutes === null ? {} : { minutes }),
    ...(wet === undefined ? {} : { wet }),
    ...(climbs && { climbs }),
  }),
};

/** A day alone is its start in the workshop's zone. Shape: oldest first. */
async function formerOf(
  tx: Tx,
  rows: NonNullable<Rows['bike']['formerFleets']>,
  resolve: Resolve,
): Promise<FormerFleet[]> {
  const { timeZone } = await getWorkshop(tx);
  const former: FormerFleet[] = [];
  for (const [i, { fleet, until }] of rows.entries())
    former.push({
      fleetId: fleet === null ? null : await resolve('fleet', fleet, `formerFleets[${i}].fleet`),
      until: isoTime(momentOf(until, timeZone)!),
    });
  return former.sort((a, b) => Date.parse(a.until) - Date.parse(b.until));
}

export const bodyOfRow = async <K extends FactRowKind>(
  tx: Tx,
  kind: K,
  row: Rows[K],
  resolve: Resolve,
  before: FactBodies[K] | null = null,
): Promise<FactBodies[K]> => (TO_BODY[kind] as ToBody<K>)(row, resolve, before, tx);

/** Returns the handles of what some facts speak of; no others are read. */
export async function handlesIn(tx: Tx, facts: readonly Fact[]): Promise<HandleOf> {
  const spokenOf = new Map<HandleKind, Set<string>>();
  const note: HandleOf = (kind, id) => {
    spokenOf.set(kind, (spokenOf.get(kind) ?? new Set()).add(id));
    return id;
  };
  for (const { kind, body } of facts) if (isRowKind(kind)) rowOfBody(kind, body as never, note);
  const known = new Map<HandleKind, ReadonlyMap<string, string>>();
  for (const [kind, ids] of spokenOf) known.set(kind, await tx.handles.listOf(kind, [...ids]));
  return (kind, id) => known.get(kind)?.get(id) ?? id;
}
