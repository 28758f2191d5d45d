import type { DueRow } from '../due/listDue.js';

/** A crash mark is the unit's: one row tells it, whatever its service kinds. */
export function oneOfStopped(rows: readonly DueRow[]): DueRow[] {
  const stopped = new Set<string>();
  return rows.filter(({ unitId, state }) => {
    if (state !== 'stop-riding') return true;
    const isFirst = !stopped.has(unitId);
    stopped.add(unitId);
    return isFirst;
  });
}
