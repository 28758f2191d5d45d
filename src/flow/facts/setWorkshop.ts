import { canonical } from '../../core/canonical.js';
import type { WorkshopFact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { refuseCommand } from '../refuse.js';
import { getFact, replaceFact } from './changeFact.js';

/** What a workshop says of itself; the rest of its fact stays. */
export type WorkshopWords = Pick<
  WorkshopFact,
  | 'name'
  | 'email'
  | 'phone'
  | 'address'
  | 'openingHours'
  | 'timeZone'
  | 'openDays'
  | 'digestHour'
  | 'noticeDays'
  | 'language'
>;

/** What the bench can take. */
export type BenchWords = Pick<
  WorkshopFact,
  'placesAWeek' | 'benchMinutesADay' | 'closedDays' | 'raceOpenDays'
>;

/**
 * Puts other words in the place of those that a person saw, named by the fact. Returns the new fact's id, or null where
 * nothing is other.
 * Errors: `already-replaced` where somebody else changed them meanwhile, `refused`, `not-found`.
 */
export async function setWorkshop(
  tx: Tx,
  factId: string,
  words: WorkshopWords | BenchWords,
  entry: Entry,
): Promise<string | null> {
  const fact = await getFact(tx, factId);
  if (fact.kind !== 'workshop') refuseCommand('That is no fact about the workshop.');
  const before = fact.body as WorkshopFact;
  const body = { ...before, ...words };
  if (canonical(body) === canonical(before)) return null;
  return (await replaceFact(tx, factId, { kind: 'workshop', body }, entry)).id;
}
