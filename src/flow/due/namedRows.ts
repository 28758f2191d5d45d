import type { Tx } from '../../ports/store.js';
import { byUnit, type DueRow, type DueUnit } from './listDue.js';

/** A row with the rider's name, which stands in the contacts alone, and why its unit must not be ridden. */
export type NamedRow = DueRow & { readonly riderName: string | null; readonly stopWhy: string | null };

export async function withNames(tx: Tx, rows: readonly DueRow[]): Promise<NamedRow[]> {
  const riderIds = new Set(rows.map(({ riderId }) => riderId).filter((id) => id !== null));
  const names = new Map(
    (await tx.contacts.listOf([...riderIds])).map(({ riderId, name }) => [riderId, name]),
  );
  const stopped = rows.filter(({ state }) => state === 'stop-riding').map(({ unitId }) => unitId);
  const why = await stopReasons(tx, [...new Set(stopped)]);
  const nameOf = ({ riderId, rider }: DueRow): string | null =>
    riderId === null ? null : (names.get(riderId) ?? rider);
  return rows.map((row) => ({ ...row, riderName: nameOf(row), stopWhy: why.get(row.unitId) ?? null }));
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
