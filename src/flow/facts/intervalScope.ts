import type { IntervalFact } from '../../core/ledger/facts.js';

/** What a rule is for: two rules of one scope cannot both stand. */
type RuleScope = Pick<IntervalFact, 'unitKind' | 'serviceKind' | 'scope'>;

export const isSameScope = (a: RuleScope, b: RuleScope): boolean =>
  a.unitKind === b.unitKind &&
  a.serviceKind === b.serviceKind &&
  a.scope.unitId === b.scope.unitId &&
  a.scope.model === b.scope.model &&
  a.scope.fleetId === b.scope.fleetId;
