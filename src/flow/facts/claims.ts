/** A claim under warranty, step by step; each step takes the place of the one that a person saw. */
import { dayOf } from '../../core/days/calendar.js';
import type { ClaimFact, Fact } from '../../core/ledger/facts.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { isClaimOpen } from '../plan/comebacks.js';
import { getWorkshop } from '../settings.js';
import { addFact, replaceFact } from './changeFact.js';

export type ClaimSaid = Omit<ClaimFact, 'unitId' | 'openedOn'>;

/** Returns the claim of a unit that waits for an answer; null where none does. */
export async function findClaim(tx: Tx, unitId: string): Promise<Fact<'claim'> | null> {
  const claims = await tx.facts.list('claim', { subject: unitId });
  return claims.find(({ body }) => isClaimOpen(body)) ?? null;
}

/**
 * Opens a claim, or says what became of the one that a person saw. Shape: `seen` is its fact; null for a new one. Returns
 * the fact's id. Errors: `already-replaced`, `not-found`.
 */
export async function saveClaim(
  tx: Tx,
  unitId: string,
  seen: string | null,
  said: ClaimSaid,
  entry: Entry,
): Promise<string> {
  if (seen === null) {
    const openedOn = dayOf(entry.at, (await getWorkshop(tx)).timeZone);
    return (await addFact(tx, { kind: 'claim', body: { unitId, openedOn, ...said } }, entry)).id;
  }
  const fact = await tx.facts.find(seen);
  if (fact?.kind !== 'claim' || (fact.body as ClaimFact).unitId !== unitId)
    throw new ServiceError('not-found', 'There is no such claim.');
  const body = { ...(fact.body as ClaimFact), ...said };
  return (await replaceFact(tx, seen, { kind: 'claim', body }, entry)).id;
}
