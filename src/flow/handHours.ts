import type { HoursFact } from '../core/facts.js';
import type { Tx } from '../ports.js';
import { addFact } from './changeFact.js';
import type { Entry } from './entry.js';

/** Adds riding without a recorder. Returns the fact's id. */
export const addHours = async (tx: Tx, body: HoursFact, entry: Entry): Promise<string> =>
  (await addFact(tx, { kind: 'hours', body }, entry)).id;
