/** The one way in which facts change: checked, stored beside what was there, and everything derived brought up to date. */
import type { Fact, FactBodies, FactKind } from '../../core/ledger/facts.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { giveName, isNamed, type NamedKind, nameIn } from '../names.js';
import { refuse } from '../refuse.js';
import { checkBody, checkUnitBook, checkVoid } from './checkFact.js';
import { type Change, follow, nothingTouched, type Touched, touch } from './touched.js';

/**
 * Adds a fact. With `touched` the caller brings up to date what follows, for many changes at once.
 * Errors: `refused`, naming the conflict.
 */
export async function addFact<K extends FactKind>(
  tx: Tx,
  { kind, body, entityId }: { readonly kind: K; readonly body: FactBodies[K]; readonly entityId?: string },
  entry: Entry,
  touched?: Touched,
): Promise<Fact<K>> {
  await checkBody(tx, { kind, entityId: entityId ?? null, before: null, after: body }, entry.at);
  const fact = await tx.facts.add({ kind, body, ...entry, ...(entityId === undefined ? {} : { entityId }) });
  await bringUp(tx, { kind, entityId: fact.entityId, before: null, after: body }, entry, touched);
  return fact;
}

/**
 * Puts a fact in the place of another; one made void is taken up again so.
 * Errors: `refused` naming the conflict, `already-replaced` naming who was first, `not-found`.
 */
export async function replaceFact<K extends FactKind>(
  tx: Tx,
  factId: string,
  { kind, body }: { readonly kind: K; readonly body: FactBodies[K] },
  entry: Entry,
  touched?: Touched,
): Promise<Fact<K>> {
  const old = await getFact(tx, factId);
  const before = old.isVoid ? null : (old.body as FactBodies[K]);
  const fact = await tx.facts.replace(factId, { kind, body, ...entry });
  const change = { kind, entityId: old.entityId, before, after: body };
  await checkBody(tx, change, entry.at);
  if (isNamed(kind)) await giveName(tx, kind, fact, nameIn(body as FactBodies[NamedKind]));
  await bringUp(tx, change, entry, touched);
  return fact;
}

/** Takes a fact back. Errors: as of `replaceFact`. */
export async function voidFact(
  tx: Tx,
  factId: string,
  why: string,
  { by, at }: Entry,
  touched?: Touched,
): Promise<Fact> {
  const old = await getFact(tx, factId);
  if (old.isVoid) refuse('void-already', { fact: factId });
  const fact = await tx.facts.void(factId, by, at, why);
  await checkVoid(tx, old);
  const change = { kind: old.kind, entityId: old.entityId, before: old.body, after: null };
  await bringUp(tx, change, { by, at }, touched);
  return fact;
}

/** Errors: `not-found`. */
export async function getFact(tx: Tx, factId: string): Promise<Fact> {
  const fact = await tx.facts.find(factId);
  if (fact) return fact;
  throw new ServiceError('not-found', `There is no fact ${factId}.`, {
    hint: 'stanchion story TAG shows the facts of a unit with their ids.',
  });
}

async function bringUp<K extends FactKind>(
  tx: Tx,
  change: Change<K>,
  { at }: Entry,
  touched?: Touched,
): Promise<void> {
  await checkUnitBook(tx, change);
  const own = touched ?? nothingTouched();
  await touch(tx, own, change);
  if (!touched) await follow(tx, own, at);
}
