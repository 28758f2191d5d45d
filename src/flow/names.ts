/** What people and folders call a unit, a bike, a rider, a fleet or a race; inside stand random ids. */
import type { Fact, FactBodies, FactKind } from '../core/ledger/facts.js';
import { ServiceError } from '../errors.js';
import type { HandleKind } from '../ports/handles.js';
import type { Tx } from '../ports/store.js';
import { refuse } from './refuse.js';

/** Kinds whose facts hold their handle; a rider's must be forgettable and stands in no fact. */
export type NamedKind = 'unit' | 'bike' | 'fleet' | 'race';

const NAMED: readonly FactKind[] = ['unit', 'bike', 'fleet', 'race'] satisfies NamedKind[];

export const isNamed = (kind: FactKind): kind is NamedKind => NAMED.includes(kind);

export const nameIn = (body: FactBodies[NamedKind]): string => ('tag' in body ? body.tag : body.handle);

export const findIdOf = (tx: Tx, kind: HandleKind, handle: string): Promise<string | undefined> =>
  tx.handles.find(kind, handle);

/** Returns what a handle finds. Errors: `not-found`. */
export async function getIdOf(tx: Tx, kind: HandleKind, handle: string): Promise<string> {
  const id = await findIdOf(tx, kind, handle);
  if (id !== undefined) return id;
  throw new ServiceError('not-found', `There is no ${kind} ${handle}.`);
}

/** Errors: `not-found`. */
export async function getBikeFact(tx: Tx, handle: string): Promise<Fact<'bike'>> {
  const fact = await tx.facts.current('bike', await getIdOf(tx, 'bike', handle));
  if (fact) return fact;
  throw new ServiceError('not-found', `There is no bike ${handle}.`);
}

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
  if (owner === undefined) await new NamesAlike(tx).refuseAlike(kind, name, entityId);
  await tx.handles.give(kind, name, entityId, seq);
}

const inSmallLetters = (name: string): string => name.normalize('NFC').toLowerCase();

/** Names told apart only by capital letters are one to a person, and one to many a disk. */
export class NamesAlike {
  readonly #ofKind = new Map<HandleKind, Map<string, Map<string, string>>>();
  constructor(readonly tx: Tx) {}

  /** Errors: `refused` where something else, which is there still, is called so but for capital letters. */
  async refuseAlike(kind: HandleKind, name: string, entityId: string | null = null): Promise<void> {
    const alike = (await this.#load(kind)).get(inSmallLetters(name));
    for (const [other, owner] of alike ?? []) {
      if (other === name || owner === entityId) continue;
      if ((await this.tx.facts.current(kind, owner)) === undefined) continue;
      if ((await calledNow(this.tx, kind, owner)) === other) refuse('name-alike', { name, kind, other });
    }
  }

  /** So that the next of many finds it too. */
  add(kind: HandleKind, name: string, entityId: string): void {
    const names = this.#ofKind.get(kind);
    if (names) put(names, name, entityId);
  }

  async #load(kind: HandleKind): Promise<Map<string, Map<string, string>>> {
    const names = this.#ofKind.get(kind) ?? new Map<string, Map<string, string>>();
    if (!this.#ofKind.has(kind))
      for (const [name, entityId] of await this.tx.handles.names(kind)) put(names, name, entityId);
    this.#ofKind.set(kind, names);
    return names;
  }
}

function put(names: Map<string, Map<string, string>>, name: string, entityId: string): void {
  const key = inSmallLetters(name);
  names.set(key, (names.get(key) ?? new Map<string, string>()).set(name, entityId));
}
