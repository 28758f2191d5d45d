/** The jobs that each kind of unit is serviced with, and what a workshop may add. */
import type { ServiceKind, UnitKind } from '../tokens.js';

export interface ServiceKindTerms {
  readonly unitKind: UnitKind;
  readonly name: ServiceKind;
  /** Null where there is no default: then only the workshop's own rule sets an interval. */
  readonly terrainHours: number | null;
  readonly months: number | null;
  readonly benchMinutes: number;
  /** The clocks that it restarts unless the service says otherwise; `all` includes the kinds a workshop added. */
  readonly restarts: 'all' | readonly ServiceKind[];
}

/** A service kind of the workshop's own. */
export interface AddedServiceKind {
  readonly unitKind: UnitKind;
  readonly name: ServiceKind;
  readonly terrainHours?: number | null;
  readonly months?: number | null;
  readonly benchMinutes?: number;
}

/** A job that is logged and restarts no clock; it has no interval and never falls due. */
export const WIPERS_ONLY: ServiceKind = 'wipers-only';

/** What a workshop's own service kind takes on the bench until it says otherwise. */
const ADDED_BENCH_MINUTES = 60;

const terms = (
  unitKind: UnitKind,
  name: ServiceKind,
  terrainHours: number,
  months: number | null,
  benchMinutes: number,
  restarts: ServiceKindTerms['restarts'],
): ServiceKindTerms => ({ unitKind, name, terrainHours, months, benchMinutes, restarts });

/** Defaults, smaller jobs first. Source: common practice; the maker's manual comes first. */
const BUILT_IN: readonly ServiceKindTerms[] = [
  terms('fork', 'lower-leg', 50, 12, 60, ['lower-leg']),
  terms('fork', 'damper', 150, null, 120, ['damper', 'lower-leg']),
  terms('fork', 'full', 200, 12, 150, 'all'),
  terms('air-shock', 'air-sleeve', 50, null, 30, ['air-sleeve']),
  terms('air-shock', 'full', 200, 12, 120, 'all'),
  terms('coil-shock', 'bushings', 50, null, 20, ['bushings']),
  terms('coil-shock', 'full', 200, 12, 120, 'all'),
];

const termsOfAdded = (added: AddedServiceKind): ServiceKindTerms => ({
  unitKind: added.unitKind,
  name: added.name,
  terrainHours: added.terrainHours ?? null,
  months: added.months ?? null,
  benchMinutes: added.benchMinutes ?? ADDED_BENCH_MINUTES,
  restarts: [added.name],
});

/** Returns the service kinds of a kind of unit, built-in ones first; one added under a built-in name is left out. */
export function serviceKindsOf(unitKind: UnitKind, added: readonly AddedServiceKind[]): ServiceKindTerms[] {
  const kinds = BUILT_IN.filter((kind) => kind.unitKind === unitKind);
  for (const own of added) {
    if (own.unitKind === unitKind && !kinds.some((kind) => kind.name === own.name))
      kinds.push(termsOfAdded(own));
  }
  return kinds;
}

/** Returns the terms of one service kind, or undefined where this kind of unit has no such job: a coil has no air. */
export const findServiceKind = (
  unitKind: UnitKind,
  name: ServiceKind,
  added: readonly AddedServiceKind[],
): ServiceKindTerms | undefined => serviceKindsOf(unitKind, added).find((kind) => kind.name === name);

/** Returns the clocks that a job restarts unless the person says otherwise; null where the unit has no such job. */
export function defaultRestarts(
  unitKind: UnitKind,
  name: ServiceKind,
  added: readonly AddedServiceKind[],
): readonly ServiceKind[] | null {
  const kinds = serviceKindsOf(unitKind, added);
  const kind = kinds.find((one) => one.name === name);
  if (!kind) return name === WIPERS_ONLY && unitKind === 'fork' ? [] : null;
  return kind.restarts === 'all' ? kinds.map((one) => one.name) : kind.restarts;
}
