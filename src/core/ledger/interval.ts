import { type Day, thousandths, thousandthsOfHours } from '../../units.js';
import type { IntervalRuleName, ServiceKind } from '../tokens.js';
import type { IntervalRule, Unit } from './ledger.js';
import { type AddedServiceKind, findServiceKind } from './serviceKinds.js';

/** The interval that applies to one unit and service kind, its ceiling worked out. */
export interface Interval {
  readonly terrainHours: number | null;
  readonly months: number | null;
  readonly movingHoursCeiling: number | null;
  readonly rule: IntervalRuleName;
}

/** Moving hours over terrain hours at which the ceiling stands unless a rule says otherwise. Source: common practice. */
const CEILING_UNDER_WARRANTY = 1;
const CEILING_AFTER_WARRANTY = 1.5;

const NARROWEST_FIRST: readonly IntervalRuleName[] = ['unit', 'model', 'fleet', 'kind'];

function nameOf({ scope }: IntervalRule): IntervalRuleName {
  if (scope.unitId !== null) return 'unit';
  if (scope.model !== null) return 'model';
  return scope.fleetId !== null ? 'fleet' : 'kind';
}

const scopesNamed = ({ scope }: IntervalRule): number =>
  [scope.unitId, scope.model, scope.fleetId].filter((named) => named !== null).length;

function ruleFor(
  unit: Unit,
  serviceKind: ServiceKind,
  fleetId: string | null,
  rules: readonly IntervalRule[],
): IntervalRule | undefined {
  const applies = rules.filter(
    (rule) =>
      rule.unitKind === unit.unitKind &&
      rule.serviceKind === serviceKind &&
      (rule.scope.unitId === null || rule.scope.unitId === unit.id) &&
      (rule.scope.model === null || rule.scope.model === unit.model) &&
      (rule.scope.fleetId === null || rule.scope.fleetId === fleetId),
  );
  for (const name of NARROWEST_FIRST) {
    const named = applies.filter((rule) => nameOf(rule) === name);
    const most = Math.max(...named.map(scopesNamed));
    const narrowest = named.findLast((rule) => scopesNamed(rule) === most);
    if (narrowest) return narrowest;
  }
  return undefined;
}

/** A rule without any limit says that this job has no interval here. */
const isNoLimit = ({ terrainHours, months, movingHoursCeiling }: IntervalRule): boolean =>
  terrainHours === null && months === null && (movingHoursCeiling ?? null) === null;

function defaultCeiling(terrainHours: number | null, warrantyEnd: Day | null, today: Day): number | null {
  if (terrainHours === null) return null;
  const isUnderWarranty = warrantyEnd !== null && today <= warrantyEnd;
  const ratio = isUnderWarranty ? CEILING_UNDER_WARRANTY : CEILING_AFTER_WARRANTY;
  return thousandths(thousandthsOfHours(terrainHours) * ratio) / thousandthsOfHours(1);
}

/**
 * Returns the interval of a unit's service kind: the unit's rule, else its model's, its fleet's, the kind's, else the
 * built-in default; null where there is neither. Of two rules of one scope the later in the list applies. One that
 * names a fleet or model besides comes before one that does not.
 */
export function intervalFor(
  unit: Unit,
  serviceKind: ServiceKind,
  fleetId: string | null,
  rules: readonly IntervalRule[],
  today: Day,
  added: readonly AddedServiceKind[],
): Interval | null {
  const rule = ruleFor(unit, serviceKind, fleetId, rules);
  if (rule) {
    if (isNoLimit(rule)) return null;
    const { terrainHours, months, movingHoursCeiling } = rule;
    const ceiling =
      movingHoursCeiling === undefined
        ? defaultCeiling(terrainHours, unit.warrantyEnd, today)
        : movingHoursCeiling;
    return { terrainHours, months, movingHoursCeiling: ceiling, rule: nameOf(rule) };
  }
  const kind = findServiceKind(unit, serviceKind, added);
  if (!kind || (kind.terrainHours === null && kind.months === null)) return null;
  return {
    terrainHours: kind.terrainHours,
    months: kind.months,
    movingHoursCeiling: defaultCeiling(kind.terrainHours, unit.warrantyEnd, today),
    rule: 'kind',
  };
}
