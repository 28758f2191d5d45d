import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listDue, listDueOfMany } from './listDue.js';
import { isSought, type NamedRow, withNames } from './namedRows.js';

export const UNITS_SHOWN = 200;

/** What the list of units shows. */
export interface UnitsPage {
  readonly isEmpty: boolean;
  /** How many fit. */
  readonly count: number;
  /** The first of them, in order of tags, each with what comes next for it. */
  readonly rows: readonly NamedRow[];
}

export async function getUnitsPage(tx: Tx, find: string, now: Instant): Promise<UnitsPage> {
  if (find !== '') {
    // Any name may hold what is sought, so every row is looked at.
    const all = await withNames(tx, await listDue(tx, now));
    const rows = nextOfEach(all).filter((row) => isSought(row, find));
    return { isEmpty: all.length === 0, count: rows.length, rows: rows.slice(0, UNITS_SHOWN) };
  }
  const { count, unitIds } = await tx.standings.listUnits(UNITS_SHOWN);
  const rows = await listDueOfMany(tx, unitIds, now);
  return { isEmpty: count === 0, count, rows: nextOfEach(await withNames(tx, rows)) };
}

/** The first row of each unit in the list of what is due is what comes next for it. */
function nextOfEach(rows: readonly NamedRow[]): NamedRow[] {
  const first = new Map<string, NamedRow>();
  for (const row of rows) if (!first.has(row.unitId)) first.set(row.unitId, row);
  return [...first.values()].sort((a, b) => (a.unit < b.unit ? -1 : 1));
}
