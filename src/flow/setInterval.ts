import { canonical } from '../core/canonical.js';
import type { IntervalFact } from '../core/facts.js';
import type { Tx } from '../ports.js';
import type { Instant } from '../units.js';
import { addFact, replaceFact } from './changeFact.js';
import { isSameScope } from './intervalScope.js';

/**
 * Sets the interval of a service kind for its scope, in place of the rule that stood there, and recounts the units.
 * Returns the fact's id, or null where the same rule stands already.
 * Errors: `refused` where the unit kind has no such job or a number is out of range.
 */
export async function setInterval(
  tx: Tx,
  rule: IntervalFact,
  by: string,
  now: Instant,
): Promise<string | null> {
  const standing = (await tx.facts.list('interval')).find((fact) => isSameScope(fact.body, rule));
  if (standing && canonical(standing.body) === canonical(rule)) return null;
  const fact = { kind: 'interval' as const, body: rule };
  const entry = { by, at: now };
  const { id } = standing ? await replaceFact(tx, standing.id, fact, entry) : await addFact(tx, fact, entry);
  return id;
}
