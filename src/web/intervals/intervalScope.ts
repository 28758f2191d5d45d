import type { IntervalFact } from '../../core/ledger/facts.js';
import { findServiceKind, type ServiceKindTerms } from '../../core/ledger/serviceKinds.js';
import { UNIT_KINDS, type UnitKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import { listAddedKinds } from '../../flow/settings.js';
import type { Tx } from '../../ports/store.js';
import type { Limits } from '../show.js';
import type { Voice } from '../viewer.js';

/** Which rule a page is about: of a unit kind and service kind, for all units or for some. */
export interface RuleAddress extends Pick<IntervalFact, 'unitKind' | 'serviceKind' | 'scope'> {
  /** What it is for, as people call it. */
  readonly unitTag: string | null;
  readonly fleetHandle: string | null;
  readonly terms: ServiceKindTerms;
}

const nothingThere = (): never => {
  throw new ServiceError('not-found', 'find an interval', 'There is no such interval.');
};

/** Returns the rule that an address names. Errors: `not-found`. */
export async function ruleAddressOf(
  tx: Tx,
  kind: string,
  serviceKind: string,
  query: Readonly<Record<string, string>>,
): Promise<RuleAddress> {
  const unitKind: UnitKind = UNIT_KINDS.find((one) => one === kind) ?? nothingThere();
  const terms = findServiceKind(unitKind, serviceKind, await listAddedKinds(tx)) ?? nothingThere();
  const unitId = query.unit ? ((await tx.handles.find('unit', query.unit)) ?? nothingThere()) : null;
  const fleetId = query.fleet ? ((await tx.handles.find('fleet', query.fleet)) ?? nothingThere()) : null;
  return {
    unitKind,
    serviceKind,
    scope: { unitId, fleetId, model: query.model || null },
    unitTag: query.unit || null,
    fleetHandle: query.fleet || null,
    terms,
  };
}

type Named = Pick<RuleAddress, 'unitKind' | 'unitTag' | 'fleetHandle'> & {
  readonly scope: { readonly model: string | null };
};

/** Returns where a rule's own page is. */
export function pathOfRule(rule: Named & Pick<RuleAddress, 'serviceKind'>): string {
  const query = new URLSearchParams();
  if (rule.unitTag !== null) query.set('unit', rule.unitTag);
  if (rule.scope.model !== null) query.set('model', rule.scope.model);
  if (rule.fleetHandle !== null) query.set('fleet', rule.fleetHandle);
  const path = `/intervals/${rule.unitKind}/${encodeURIComponent(rule.serviceKind)}`;
  return query.size === 0 ? path : `${path}?${query}`;
}

/** Returns what a rule is for, in words. */
export function scopeText({ unitKind, unitTag, fleetHandle, scope }: Named, { texts, words }: Voice): string {
  const { for: say } = texts.intervals;
  const parts = [
    unitTag === null ? null : say.unit(unitTag),
    scope.model === null ? null : say.model(scope.model),
    fleetHandle === null ? null : say.fleet(fleetHandle),
  ].filter((part) => part !== null);
  return parts.length === 0 ? say.kind(words.unitKind[unitKind]) : words.list(parts);
}

export const defaultLimits = ({ terrainHours, months }: ServiceKindTerms): Limits => ({
  terrainHours,
  months,
  movingHoursCeiling: 'default',
});
