import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { benchUnit, collect } from '../facts/jobs.js';
import { endUnserved } from './leads.js';

/** Ends a job and the booking that it came by. Returns the fact's id. Errors: as of `collect`. */
export async function collectUnit(
  tx: Tx,
  unitId: string,
  { seen, isFittedBack }: { readonly seen: string | null; readonly isFittedBack: boolean },
  entry: Entry,
  ids: Ids,
): Promise<string> {
  const id = await collect(tx, unitId, seen, isFittedBack, entry);
  await endUnserved(tx, unitId, entry, ids);
  return id;
}

/** Says as commands do that the unit came to the workshop, or left it. Returns the fact's id. */
export async function moveUnit(
  tx: Tx,
  unitId: string,
  isIn: boolean,
  entry: Entry,
  ids: Ids,
): Promise<string> {
  const id = await benchUnit(tx, unitId, isIn, entry);
  if (!isIn) await endUnserved(tx, unitId, entry, ids);
  return id;
}
