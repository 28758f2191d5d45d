import type { Tx } from '../../ports/store.js';
import type { DueRow } from './listDue.js';

/** A row with the rider's name, which stands in the contacts alone. */
export type NamedRow = DueRow & { readonly riderName: string | null };

export async function withNames(tx: Tx, rows: readonly DueRow[]): Promise<NamedRow[]> {
  const riderIds = new Set(rows.map(({ riderId }) => riderId).filter((id) => id !== null));
  const names = new Map(
    (await tx.contacts.listOf([...riderIds])).map(({ riderId, name }) => [riderId, name]),
  );
  const nameOf = ({ riderId, rider }: DueRow): string | null =>
    riderId === null ? null : (names.get(riderId) ?? rider);
  return rows.map((row) => ({ ...row, riderName: nameOf(row) }));
}

/** Returns whether what people look for stands in one of a row's names. */
export const isSought = (row: NamedRow, find: string): boolean =>
  [row.unit, row.model, row.bike, row.bikeName, row.rider, row.riderName].some((text) =>
    text?.toLowerCase().includes(find.toLowerCase()),
  );
