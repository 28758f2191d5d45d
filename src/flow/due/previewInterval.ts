import { dayOf } from '../../core/days/calendar.js';
import { type KnownForecasts, standingsOf, type UnitStanding } from '../../core/forecast/standings.js';
import type { UnitKnown } from '../../core/forecast/unitRiding.js';
import type { Likely } from '../../core/ledger/comingUp.js';
import type { IntervalFact } from '../../core/ledger/facts.js';
import { serviceKindsOf } from '../../core/ledger/serviceKinds.js';
import type { State } from '../../core/tokens.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { isSameScope } from '../facts/intervalScope.js';
import { ruleOf } from '../settings.js';
import { getUnitKnown, listRidesNeeded } from './refreshDue.js';

interface Stands {
  readonly state: State;
  readonly likely: Likely;
}

/** Where a unit stands in the rule's service kind now, and where it would stand under the rule. */
export interface PreviewedUnit {
  readonly unitId: string;
  readonly tag: string;
  readonly model: string | null;
  /** Null where the service kind has no interval now. */
  readonly before: Stands | null;
  /** Null where it would have none. */
  readonly after: Stands | null;
}

/** Returns the units that a rule may apply to; which of them it moves is for `previewInterval` to say. */
export async function listUnitsUnder(tx: Tx, { unitKind, scope }: IntervalFact): Promise<string[]> {
  const units = await tx.facts.list('unit');
  return units
    .filter(
      ({ entityId, body }) =>
        body.unitKind === unitKind &&
        (scope.unitId === null || scope.unitId === entityId) &&
        (scope.model === null || scope.model === body.model),
    )
    .map((unit) => unit.entityId);
}

/** Returns where some units would stand with the rule, but for those that have no such interval either way. */
export async function previewIntervals(
  tx: Tx,
  unitIds: readonly string[],
  rule: IntervalFact,
  now: Instant,
): Promise<PreviewedUnit[]> {
  const previewed: PreviewedUnit[] = [];
  for (const unitId of unitIds) {
    const unit = await previewInterval(tx, unitId, rule, now);
    if (unit !== null) previewed.push(unit);
  }
  return previewed;
}

/**
 * Returns where a unit would stand with the rule in place of the one of its scope, and saves nothing; null where the
 * service kind has no interval either way.
 */
export async function previewInterval(
  tx: Tx,
  unitId: string,
  rule: IntervalFact,
  now: Instant,
): Promise<PreviewedUnit | null> {
  const known = await getUnitKnown(tx, unitId, now);
  const { serviceKind } = rule;
  const others = known.rules.filter((one) => one.serviceKind === serviceKind && !isSameScope(one, rule));
  const rides = await listRidesNeeded(tx, known);
  const standing = (rules: UnitKnown['rules'], kept?: KnownForecasts): UnitStanding | undefined =>
    standingsOf({ ...known, rules: [...rules, ...withoutLimits(known, serviceKind)] }, rides, {
      ...(kept && { kept }),
    }).find((one) => one.standing.serviceKind === serviceKind);
  const stored = (await tx.standings.listOf(unitId)).find((row) => row.serviceKind === serviceKind);
  const before = isOfToday(stored, known) ? stored : standing(known.rules)?.standing;
  const rules = [...others, ruleOf(rule)];
  // Most states follow from the hours alone; only the two quiet ones need a forecast, which is slow.
  const byHours = standing(rules, new Map())?.standing;
  const isQuiet = byHours?.state === 'in-time' || byHours?.state === 'coming-up';
  const after = isQuiet ? standing(rules)?.standing : byHours;
  if (!before && !after) return null;
  return {
    unitId,
    tag: known.unit.tag,
    model: known.unit.model,
    before: standsOf(before),
    after: standsOf(after),
  };
}

const standsOf = (standing: Stands | undefined): Stands | null =>
  standing === undefined ? null : { state: standing.state, likely: standing.likely };

const isOfToday = (row: StandingRow | undefined, { asOf, zone }: UnitKnown): row is StandingRow =>
  row !== undefined && !row.stale && dayOf(row.asOf, zone) === dayOf(asOf, zone);

/** Rules that lift the limits of the unit's other service kinds, so that no forecast is made for them. */
function withoutLimits({ unit, addedKinds }: UnitKnown, serviceKind: string): UnitKnown['rules'] {
  return serviceKindsOf(unit, addedKinds)
    .filter((kind) => kind.name !== serviceKind)
    .map((kind) => ({
      unitKind: unit.unitKind,
      serviceKind: kind.name,
      scope: { fleetId: null, model: null, unitId: unit.id },
      terrainHours: null,
      months: null,
      movingHoursCeiling: null,
    }));
}
