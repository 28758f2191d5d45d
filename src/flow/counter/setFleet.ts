import { canonical } from '../../core/canonical.js';
import type { Fact, FleetFact, UsedPart } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { addFact, getFact, replaceFact } from '../facts/changeFact.js';
import { nothingTouched } from '../facts/touched.js';
import { getIdOf, giveName } from '../names.js';
import { refuseCommand } from '../refuse.js';
import { nextNumber } from './newThings.js';
import { listPartNames } from './setParts.js';

/** What the forms of a fleet show. */
export interface FleetForm {
  readonly fact: Fact<'fleet'>;
  /** Names of all parts that the workshop typed. */
  readonly known: readonly string[];
}

/** Errors: `not-found`. */
export async function getFleetForm(tx: Tx, handle: string): Promise<FleetForm> {
  const fact = (await tx.facts.current('fleet', await getIdOf(tx, 'fleet', handle)))!;
  return { fact, known: await listPartNames(tx) };
}

/** Adds a fleet with a name of its own for files. Returns its handle. */
export async function addFleet(tx: Tx, name: string, entry: Entry): Promise<string> {
  const handle = `t${await nextNumber(tx, 'fleet', 't')}`;
  const fact = await addFact(tx, { kind: 'fleet', body: { handle, name } }, entry, nothingTouched());
  await giveName(tx, 'fleet', fact, handle);
  return handle;
}

/**
 * Puts another name or spare list in the place of the one that a person saw, named by the fact. Returns whether anything
 * is other.
 * Errors: `already-replaced`, `not-found`, `refused`.
 */
export async function changeFleet(
  tx: Tx,
  factId: string,
  words: { readonly name: string } | { readonly spares: readonly UsedPart[] },
  entry: Entry,
): Promise<boolean> {
  const fact = await getFact(tx, factId);
  if (fact.kind !== 'fleet') return refuseCommand('That is no fact about a fleet.');
  const before = fact.body as FleetFact;
  const body: FleetFact = { ...before, ...words };
  if (canonical({ spares: [], ...body }) === canonical({ spares: [], ...before })) return false;
  await replaceFact(tx, factId, { kind: 'fleet', body }, entry);
  return true;
}
