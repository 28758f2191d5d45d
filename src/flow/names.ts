/** What people and folders call a unit, a bike, a rider, a fleet or a race; inside stand random ids. */
import type { FactBodies, FactKind } from '../core/facts.js';
import type { HandleKind, Tx } from '../ports.js';
import { refuse } from './refuse.js';

/** Kinds whose facts hold their handle; a rider's must be forgettable and stands in no fact. */
export type NamedKind = 'unit' | 'bike' | 'fleet' | 'race';

const NAMED: readonly FactKind[] = ['unit', 'bike', 'fleet', 'race'] satisfies NamedKind[];

export const isNamed = (kind: FactKind): kind is NamedKind => NAMED.includes(kind);

export const nameIn = (body: FactBodies[NamedKind]): string => ('tag' in body ? body.tag : body.handle);

/** What a unit or bike is called, in the words of a message. */
export const calledNow = async (tx: Tx, kind: HandleKind, entityId: string): Promise<string | undefined> =>
  (await tx.handles.listOf(kind, [entityId])).get(entityId);

/** Returns every handle that finds it, the one of today last. */
export const listNames = async (tx: Tx, kind: HandleKind, entityId: string): Promise<string[]> =>
  [...(await tx.handles.names(kind))].filter(([, id]) => id === entityId).map(([name]) => name);

/**
 * Gives a handle to what a fact just spoke of. Its earlier ones still find it, so that folders, printed cards and old
 * files do, until something else is given one of them.
 * Errors: `refused` where something else is called so.
 */
export async function giveName(
  tx: Tx,
  kind: HandleKind,
  { entityId, seq }: { readonly entityId: string; readonly seq: number },
  name: string,
): Promise<void> {
  const owner = await tx.handles.find(kind, name);
  const isTaken =
    owner !== undefined &&
    owner !== entityId &&
    (await tx.facts.current(kind, owner)) !== undefined &&
    (await calledNow(tx, kind, owner)) === name;
  if (isTaken) refuse('name-taken', { name, kind });
  await tx.handles.give(kind, name, entityId, seq);
}
