import { addUp, type PartUse, type Shelf } from '../../core/plan/parts.js';
import type { Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import type { Entry } from '../entry.js';
import { countShelf, listPartRows, listShelf } from '../plan/partsShelf.js';

/** A part with what lies on the shelf of it; null where nobody counted it. */
export interface ShelfRow extends Pick<PartUse, 'part' | 'measure'> {
  readonly shelf: Shelf | null;
}

/** Returns every part that a job takes or somebody counted, in order of name. */
export async function listShelfRows(tx: Tx): Promise<ShelfRow[]> {
  const rows = await listPartRows(tx);
  const shelf = await listShelf(tx, rows);
  const taken = addUp(rows);
  const counted = shelf
    .filter(({ part }) => !taken.some((use) => use.part === part))
    .map(({ part }): PartUse => ({ part, count: 0, measure: 'pieces' }));
  return [...taken, ...counted]
    .sort((a, b) => (a.part < b.part ? -1 : 1))
    .map(({ part, measure }) => ({ part, measure, shelf: shelf.find((one) => one.part === part) ?? null }));
}

export interface Count {
  readonly part: string;
  readonly count: number;
  readonly deliveryDays: number;
}

/** Writes down the counts that differ from what the ledger has; a count that agrees says nothing new. Returns how many. */
export async function countParts(tx: Tx, counts: readonly Count[], on: Day, entry: Entry): Promise<number> {
  const rows = await listShelfRows(tx);
  let counted = 0;
  for (const { part, count, deliveryDays } of counts) {
    const shelf = rows.find((row) => row.part === part)?.shelf ?? null;
    if (shelf !== null && shelf.left === count && shelf.deliveryDays === deliveryDays) continue;
    await countShelf(tx, { part, count, deliveryDays, countedOn: on }, entry);
    counted++;
  }
  return counted;
}
