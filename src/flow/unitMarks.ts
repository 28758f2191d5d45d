import type { Tx } from '../ports.js';
import { addFact } from './changeFact.js';
import type { Entry } from './entry.js';

/** Sets or clears the crash mark: stop riding, have it seen. Returns the fact's id. */
export const markUnit = async (
  tx: Tx,
  unitId: string,
  stop: boolean,
  why: string,
  entry: Entry,
): Promise<string> => (await addFact(tx, { kind: 'mark', body: { unitId, stop, why } }, entry)).id;

/** Says that the unit came to the workshop or left it. Returns the fact's id. */
export const benchUnit = async (tx: Tx, unitId: string, isIn: boolean, entry: Entry): Promise<string> =>
  (await addFact(tx, { kind: 'bench', body: { unitId, in: isIn } }, entry)).id;
