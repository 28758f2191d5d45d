import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listDueOfMany } from './listDue.js';
import { type NamedRow, withNames } from './namedRows.js';

export const UNITS_SHOWN = 200;

/** What the list of units shows. */
export interface UnitsPage {
  /** How many there are. */
  readonly count: number;
  /** The first of them, in order of tags, each with what comes next for it. */
  readonly rows: readonly NamedRow[];
}

export async function getUnitsPage(tx: Tx, now: Instant): Promise<UnitsPage> {
  const { count, unitIds } = await tx.standings.listUnits(UNITS_SHOWN);
  const rows = await listDueOfMany(tx, unitIds, now);
  return { count, rows: nextOfEach(await withNames(tx, rows)) };
}

/** The first row of each unit in the list of what is due is what comes next for it. */
export function nextOfEach(rows: readonly NamedRow[]): NamedRow[] {
  const first = new Map<string, NamedRow>();
  for (const row of rows) if (!first.has(row.unitId)) first.set(row.unitId, row);
  return [...first.values()].sort((a, b) => (a.unit < b.unit ? -1 : 1));
}
