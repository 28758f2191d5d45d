import { handleFault } from '../../core/handle.js';
import type { HandleKind } from '../../ports/handles.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { refuse } from '../refuse.js';
import { getFact } from './changeFact.js';
import { correctFact, getFactRow } from './correctFact.js';

/**
 * Gives a unit, bike, rider, fleet or race another name in the place of one that was typed wrong; all facts and hours
 * stay with it, and its earlier name still finds it. `factId` is what a person saw of it. Returns the new fact's id.
 * Errors: `refused` where it is taken or cannot be a name, `already-replaced` naming who was first, `not-found`.
 */
export async function rename(
  tx: Tx,
  factId: string,
  name: string,
  entry: Entry & { readonly why: string },
): Promise<string> {
  const fault = handleFault(name);
  if (fault !== null) refuse('no-name', { name, fault });
  const { kind } = await getFact(tx, factId);
  const { row } = await getFactRow(tx, factId);
  return correctFact(
    tx,
    factId,
    { kind: kind as HandleKind, row: { ...row, [kind === 'unit' ? 'tag' : 'id']: name } as never },
    entry,
  );
}
