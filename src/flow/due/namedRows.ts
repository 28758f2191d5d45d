import type { Tx } from '../../ports/store.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';
import { byUnit, type DueRow, type DueUnit } from './listDue.js';

/**
 * A row with the rider's name, which stands in the contacts alone, and why its unit must not be ridden. A unit in its box
 * is of the rider who was named with it; else of the one whose bike it was on last.
 */
export type NamedRow = DueRow & { readonly riderName: string | null; readonly stopWhy: string | null };

export async function withNames(tx: Tx, rows: readonly DueRow[]): Promise<NamedRow[]> {
  const boxed = rows.filter(({ bikeId }) => bikeId === null).map(({ unitId }) => unitId);
  const owners = await boxOwners(tx, [...new Set(boxed)]);
  const riderIds = new Set(
    [...rows.map(({ riderId }) => riderId), ...owners.values()].filter((id) => id !== null),
  );
  const names = new Map(
    (await tx.contacts.listOf([...riderIds])).map(({ riderId, name }) => [riderId, name]),
  );
  const stopped = rows.filter(({ state }) => state === 'stop-riding').map(({ unitId }) => unitId);
  const why = await stopReasons(tx, [...new Set(stopped)]);
  const nameOf = ({ unitId, riderId, rider }: DueRow): string | null =>
    names.get(riderId ?? owners.get(unitId) ?? '') ?? rider;
  return rows.map((row) => ({ ...row, riderName: nameOf(row), stopWhy: why.get(row.unitId) ?? null }));
}

/** Returns whose each of some units in their boxes is; those of nobody are left out. */
async function boxOwners(tx: Tx, unitIds: readonly string[]): Promise<ReadonlyMap<string, string>> {
  if (unitIds.length === 0) return new Map();
  const { timeZone } = await getWorkshop(tx);
  const lastOn = new Map(
    (await tx.facts.listMany('fitting', unitIds))
      .map((fact) => fittingOf(fact, timeZone))
      .sort((a, b) => a.from - b.from)
      .map(({ unitId, bikeId }) => [unitId, bikeId]),
  );
  const owners = new Map<string, string>();
  for (const { entityId: unitId, body } of await tx.facts.listMany('unit', unitIds)) {
    const bikeId = lastOn.get(unitId);
    const bike = bikeId === undefined ? undefined : (await tx.facts.current('bike', bikeId))?.body;
    const riderId = body.riderId ?? (bike?.sold ? null : bike?.riderId);
    if (riderId) owners.set(unitId, riderId);
  }
  return owners;
}

/** Returns why each of some units must not be ridden, as somebody wrote it; those without a mark are left out. */
export async function stopReasons(tx: Tx, unitIds: readonly string[]): Promise<ReadonlyMap<string, string>> {
  const last = new Map((await tx.facts.listMany('mark', unitIds)).map(({ body }) => [body.unitId, body]));
  return new Map([...last].filter(([, { stop }]) => stop).map(([unitId, { why }]) => [unitId, why]));
}

/** The same of units, each with its rows. */
export async function withUnitNames(tx: Tx, units: readonly DueUnit[]): Promise<DueUnit<NamedRow>[]> {
  const named = await withNames(
    tx,
    units.flatMap(({ first, rest }) => [first, ...rest]),
  );
  return byUnit(named);
}

/** Returns whether what people look for stands in one of a row's names. */
export const isSought = (row: NamedRow, find: string): boolean =>
  [row.unit, row.model, row.bike, row.bikeName, row.rider, row.riderName].some((text) =>
    text?.toLowerCase().includes(find.toLowerCase()),
  );
