import type { ForeseenChance } from '../../core/forecast/dueChance.js';
import { groupBy } from '../../core/groupBy.js';
import type { Fact } from '../../core/ledger/facts.js';
import { type Bike, fittingNow, type Unit } from '../../core/ledger/ledger.js';
import { defaultRestarts } from '../../core/ledger/serviceKinds.js';
import { jobMinutes } from '../../core/plan/jobMinutes.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { StandingRow } from '../../ports/standings.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getMinuteTerms, getWorkshop } from '../settings.js';
import { bikeOf, fittingOf, unitOf } from '../unitLedger.js';

/** One unit with all that is foreseen of it. */
export interface ForeseenUnit {
  readonly unit: Unit;
  /** The one it is on now; null for a boxed unit. */
  readonly bike: Bike | null;
  readonly foreseen: readonly ForeseenKind[];
}

export type ForeseenKind = ForeseenChance & { readonly benchMinutes: number };

/** Returns how long a job on the unit takes; 0 for what is no job of it. */
export const minutesOf = ({ foreseen }: ForeseenUnit, kind: ServiceKind): number =>
  foreseen.find(({ standing }) => standing.serviceKind === kind)?.benchMinutes ?? 0;

/** Returns every unit with where its service kinds stand, in order of tags. */
export const listForeseen = async (tx: Tx, now: Instant): Promise<ForeseenUnit[]> =>
  foresee(tx, now, {
    units: await tx.facts.list('unit'),
    fittings: await tx.facts.list('fitting'),
    bikes: await tx.facts.list('bike'),
    standings: await tx.standings.list(),
  });

/** Returns a few units so, without reading the rest. */
export async function listForeseenOf(
  tx: Tx,
  now: Instant,
  unitIds: readonly string[],
): Promise<ForeseenUnit[]> {
  const fittings = await tx.facts.listMany('fitting', unitIds);
  return foresee(tx, now, {
    units: await tx.facts.listMany('unit', unitIds),
    fittings,
    bikes: await tx.facts.listMany('bike', [...new Set(fittings.map(({ body }) => body.bikeId))]),
    standings: await tx.standings.listOfMany(unitIds),
  });
}

interface Known {
  readonly units: readonly Fact<'unit'>[];
  readonly fittings: readonly Fact<'fitting'>[];
  readonly bikes: readonly Fact<'bike'>[];
  readonly standings: readonly StandingRow[];
}

async function foresee(tx: Tx, now: Instant, known: Known): Promise<ForeseenUnit[]> {
  const { timeZone } = await getWorkshop(tx);
  const terms = await getMinuteTerms(tx);
  const bikes = new Map(known.bikes.map((fact) => [fact.entityId, bikeOf(fact)]));
  const fittings = groupBy(
    known.fittings.map((fact) => fittingOf(fact, timeZone)),
    ({ unitId }) => unitId,
  );
  const units = new Map(known.units.map((fact) => [fact.entityId, unitOf(fact)]));
  const standings = new Map<string, ForeseenKind[]>();
  for (const { forecast, stale: _stale, ...standing } of known.standings) {
    const unit = units.get(standing.unitId);
    if (!unit) continue;
    const { serviceKind } = standing;
    const restarts = defaultRestarts(unit, serviceKind, terms.added) ?? [serviceKind];
    const benchMinutes = jobMinutes(unit, serviceKind, terms) ?? 0;
    const kind = { standing, forecast, restarts, benchMinutes };
    standings.set(unit.id, [...(standings.get(unit.id) ?? []), kind]);
  }
  return [...units.values()]
    .map((unit) => ({
      unit,
      bike: bikes.get(fittingNow(fittings.get(unit.id) ?? [], now)?.bikeId ?? '') ?? null,
      foreseen: standings.get(unit.id) ?? [],
    }))
    .sort((a, b) => (a.unit.tag < b.unit.tag ? -1 : 1));
}
