import type { Tx } from '../ports.js';
import type { Entry } from './fittings.js';
import { recountUnit } from './refreshDue.js';

/** Sets or clears the crash mark: stop riding, have it seen. Returns the fact's id. */
export async function markUnit(
  tx: Tx,
  unitId: string,
  stop: boolean,
  why: string,
  entry: Entry,
): Promise<string> {
  const fact = await tx.facts.add({ kind: 'mark', body: { unitId, stop, why }, ...entry });
  await recountUnit(tx, unitId, entry.at);
  return fact.id;
}

/** Says that the unit came to the workshop or left it. Returns the fact's id. */
export async function benchUnit(tx: Tx, unitId: string, isIn: boolean, entry: Entry): Promise<string> {
  const fact = await tx.facts.add({ kind: 'bench', body: { unitId, in: isIn }, ...entry });
  await recountUnit(tx, unitId, entry.at);
  return fact.id;
}
