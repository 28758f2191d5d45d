import { canonical } from '../../core/canonical.js';
import type { Fact, WorkshopFact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { refuseCommand } from '../refuse.js';
import { findWorkshop } from '../settings.js';
import { getFact, replaceFact } from './changeFact.js';

/** What a workshop says of itself; what is left out stays. */
export type WorkshopWords = Partial<Omit<WorkshopFact, 'handle'>>;

/**
 * Puts other words in the place of those that a person saw, named by the fact. What others changed meanwhile stays,
 * where it is about something else. Returns the new fact's id, or null where nothing is other.
 * Errors: `already-replaced` where somebody else changed the same meanwhile, `refused`, `not-found`.
 */
export async function setWorkshop(
  tx: Tx,
  factId: string,
  words: WorkshopWords,
  entry: Entry,
): Promise<string | null> {
  const seen = await getFact(tx, factId);
  if (seen.kind !== 'workshop') refuseCommand('That is no fact about the workshop.');
  const now = (await findWorkshop(tx))!;
  const said = (of: object): string => canonical(Object.keys(words).map((key) => (of as never)[key] ?? null));
  const before = said(seen.body) === said(now.body) ? now : (seen as Fact<'workshop'>);
  const body = { ...before.body, ...words };
  if (canonical(body) === canonical(before.body) && before === now) return null;
  return (await replaceFact(tx, before.id, { kind: 'workshop', body }, entry)).id;
}
