import { canonical } from '../core/canonical.js';
import type { IntervalFact } from '../core/facts.js';
import { findServiceKind } from '../core/serviceKinds.js';
import { ServiceError } from '../errors.js';
import type { Tx } from '../ports.js';
import type { Instant } from '../units.js';
import { recountUnit } from './refreshDue.js';

/** What a rule is for: two rules of one scope cannot both stand. */
type RuleScope = Pick<IntervalFact, 'unitKind' | 'serviceKind' | 'scope'>;

export const isSameScope = (a: RuleScope, b: RuleScope): boolean =>
  a.unitKind === b.unitKind &&
  a.serviceKind === b.serviceKind &&
  a.scope.unitId === b.scope.unitId &&
  a.scope.model === b.scope.model &&
  a.scope.fleetId === b.scope.fleetId;

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
  const refuse = (message: string): never => {
    throw new ServiceError('refused', 'set an interval', message);
  };
  if (!findServiceKind(rule.unitKind, rule.serviceKind, [])) {
    refuse(`A ${rule.unitKind} has no service kind "${rule.serviceKind}".`);
  }
  if (rule.terrainHours !== null && !(rule.terrainHours > 0 && rule.terrainHours <= 10_000)) {
    refuse('The hours must be more than 0 and at most 10 000.');
  }
  if (rule.months !== null && !(Number.isInteger(rule.months) && rule.months > 0 && rule.months <= 240)) {
    refuse('The months must be a whole number from 1 to 240.');
  }
  const ceiling = rule.movingHoursCeiling;
  if (typeof ceiling === 'number' && !(ceiling > 0 && ceiling <= 10_000)) {
    refuse('The ceiling in moving hours must be more than 0 and at most 10 000.');
  }
  const standing = (await tx.facts.list('interval')).find((fact) => isSameScope(fact.body, rule));
  if (standing && canonical(standing.body) === canonical(rule)) return null;
  const fact = { kind: 'interval' as const, body: rule, by, at: now };
  const { id } = standing ? await tx.facts.replace(standing.id, fact) : await tx.facts.add(fact);
  for (const unit of await tx.facts.list('unit')) {
    const isTouched =
      unit.body.unitKind === rule.unitKind && (rule.scope.unitId ?? unit.entityId) === unit.entityId;
    if (isTouched) await recountUnit(tx, unit.entityId, now);
  }
  return id;
}
