import type { Foreseen } from '../core/dueChance.js';
import type { Bike, Fitting, Unit } from '../core/ledger.js';
import { defaultRestarts, findServiceKind } from '../core/serviceKinds.js';
import type { ServiceKind } from '../core/tokens.js';
import type { Tx } from '../ports.js';
import type { Instant } from '../units.js';
import { getWorkshop, listAddedKinds } from './settings.js';
import { bikeOf, fittingAt, fittingOf, unitOf } from './unitLedger.js';

/** One unit with all that is foreseen of it. */
export interface ForeseenUnit {
  readonly unit: Unit;
  /** The one it is on now; null for a boxed unit. */
  readonly bike: Bike | null;
  readonly foreseen: readonly ForeseenKind[];
}

export type ForeseenKind = Foreseen & { readonly benchMinutes: number };

/** Returns how long a job on the unit takes; 0 for what is no job of it. */
export const minutesOf = ({ foreseen }: ForeseenUnit, kind: ServiceKind): number =>
  foreseen.find(({ standing }) => standing.serviceKind === kind)?.benchMinutes ?? 0;

/** Returns every unit with where its service kinds stand, in order of tags. */
export async function listForeseen(tx: Tx, now: Instant): Promise<ForeseenUnit[]> {
  const { timeZone } = await getWorkshop(tx);
  const added = await listAddedKinds(tx);
  const bikes = new Map((await tx.facts.list('bike')).map((fact) => [fact.entityId, bikeOf(fact)]));
  const fittings = new Map<string, Fitting[]>();
  for (const fact of await tx.facts.list('fitting')) {
    const fitting = fittingOf(fact, timeZone);
    fittings.set(fitting.unitId, [...(fittings.get(fitting.unitId) ?? []), fitting]);
  }
  const standings = new Map<string, ForeseenKind[]>();
  const units = new Map((await tx.facts.list('unit')).map((fact) => [fact.entityId, unitOf(fact)]));
  for (const { forecast, stale: _stale, ...standing } of await tx.standings.list()) {
    const unit = units.get(standing.unitId);
    if (!unit) continue;
    const { serviceKind } = standing;
    const restarts = defaultRestarts(unit.unitKind, serviceKind, added) ?? [serviceKind];
    const benchMinutes = findServiceKind(unit.unitKind, serviceKind, added)?.benchMinutes ?? 0;
    const kind = { standing, forecast, restarts, benchMinutes };
    standings.set(unit.id, [...(standings.get(unit.id) ?? []), kind]);
  }
  return [...units.values()]
    .map((unit) => ({
      unit,
      bike: bikes.get(fittingAt(fittings.get(unit.id) ?? [], now)?.bikeId ?? '') ?? null,
      foreseen: standings.get(unit.id) ?? [],
    }))
    .sort((a, b) => (a.unit.tag < b.unit.tag ? -1 : 1));
}
