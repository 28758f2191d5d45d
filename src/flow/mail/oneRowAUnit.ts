import { type AddedServiceKind, defaultRestarts } from '../../core/ledger/serviceKinds.js';
import type { DueRow } from '../due/listDue.js';

/**
 * A crash mark is the unit's, and so is a history that nobody knows: one row tells each, whatever the service kinds. Of
 * what is unknown it is the job that opens the unit furthest, as notices tell it.
 */
export function oneRowAUnit(rows: readonly DueRow[], added: readonly AddedServiceKind[]): DueRow[] {
  const size = (row: DueRow): number => (defaultRestarts(row, row.serviceKind, added) ?? []).length;
  const isBefore = (a: DueRow, b: DueRow): boolean =>
    size(a) - size(b) > 0 || (size(a) === size(b) && a.serviceKind < b.serviceKind);
  const largest = new Map<string, DueRow>();
  for (const row of rows) {
    const known = largest.get(row.unitId);
    if (row.state === 'history-unknown' && (!known || isBefore(row, known))) largest.set(row.unitId, row);
  }
  const stopped = new Set<string>();
  return rows.filter((row) => {
    if (row.state === 'history-unknown') return largest.get(row.unitId) === row;
    if (row.state !== 'stop-riding') return true;
    const isFirst = !stopped.has(row.unitId);
    stopped.add(row.unitId);
    return isFirst;
  });
}
