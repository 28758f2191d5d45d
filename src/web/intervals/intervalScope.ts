import type { ServiceKindTerms } from '../../core/ledger/serviceKinds.js';
import type { Limits, RuleAddress } from '../../flow/facts/intervalsPage.js';
import type { Voice } from '../viewer.js';

type OfModel = { readonly scope: { readonly model: string | null } };

/** Returns where a rule's own page is. */
export function pathOfRule(
  rule: Pick<RuleAddress, 'unitKind' | 'serviceKind' | 'unitTag' | 'fleetHandle'> & OfModel,
): string {
  const query = new URLSearchParams();
  if (rule.unitTag !== null) query.set('unit', rule.unitTag);
  if (rule.scope.model !== null) query.set('model', rule.scope.model);
  if (rule.fleetHandle !== null) query.set('fleet', rule.fleetHandle);
  const path = `/intervals/${rule.unitKind}/${encodeURIComponent(rule.serviceKind)}`;
  return query.size === 0 ? path : `${path}?${query}`;
}

/** Returns what a rule is for, in words. */
export function scopeText(
  { unitKind, unitTag, fleetName, scope }: Pick<RuleAddress, 'unitKind' | 'unitTag' | 'fleetName'> & OfModel,
  { texts, words }: Voice,
): string {
  const { for: say } = texts.intervals;
  const parts = [
    unitTag === null ? null : say.unit(unitTag),
    scope.model === null ? null : say.model(scope.model),
    fleetName === null ? null : say.fleet(fleetName),
  ].filter((part) => part !== null);
  return parts.length === 0 ? say.kind(words.unitKind[unitKind]) : words.list(parts);
}

export const defaultLimits = ({ terrainHours, months }: ServiceKindTerms): Limits => ({
  terrainHours,
  months,
  movingHoursCeiling: 'default',
});
