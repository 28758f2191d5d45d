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

/** What holds of one kind for one kind of unit until the workshop says otherwise. */
interface Defaults {
  readonly terrainHours: number;
  readonly months: number | null;
  readonly benchMinutes: number;
}

interface BuiltIn {
  /** The units that have it; without defaults it is logged, has no clock and never falls due. */
  readonly of: Readonly<Partial<Record<UnitKind, Defaults | null>>>;
  readonly restarts: ServiceKindTerms['restarts'];
  /** Its clock runs from one look at the foam rings to the next. */
  readonly showsRings?: true;
  /** Somebody rides the unit in after it, before a race. */
  readonly wantsShakedown?: true;
}

const per = (terrainHours: number, months: number | null, benchMinutes: number): Defaults => ({
  terrainHours,
  months,
  benchMinutes,
});

/**
 * A line a service kind, smaller jobs first: hours, months and bench minutes by unit, and the clocks that it restarts.
 * Each language names every one. Source: common practice; the maker's manual comes first.
 */
const BUILT_IN = {
  'lower-leg': { of: { fork: per(50, 12, 60) }, restarts: ['lower-leg'], showsRings: true },
  damper: { of: { fork: per(150, null, 120) }, restarts: ['damper', 'lower-leg'], wantsShakedown: true },
  'air-sleeve': { of: { 'air-shock': per(50, null, 30) }, restarts: ['air-sleeve'] },
  bushings: { of: { 'coil-shock': per(50, null, 20) }, restarts: ['bushings'] },
  full: {
    of: { fork: per(200, 12, 150), 'air-shock': per(200, 12, 120), 'coil-shock': per(200, 12, 120) },
    restarts: 'all',
    wantsShakedown: true,
  },
  'wipers-only': { of: { fork: null }, restarts: [] },
} as const satisfies Readonly<Record<string, BuiltIn>>;

export type BuiltInServiceKind = keyof typeof BUILT_IN;
export const BUILT_IN_SERVICE_KINDS = Object.keys(BUILT_IN) as readonly BuiltInServiceKind[];

const LINES: readonly (readonly [BuiltInServiceKind, BuiltIn])[] = BUILT_IN_SERVICE_KINDS.map((name) => [
  name,
  BUILT_IN[name],
]);
const lineOf = (name: ServiceKind): BuiltIn | undefined => LINES.find(([one]) => one === name)?.[1];

/** The kind whose clock runs from one look at the foam rings to the next. */
export const RINGS_KIND: ServiceKind = LINES.find(([, { showsRings }]) => showsRings)![0];

/** Returns whether a unit wants to be ridden in after a job, before it races. */
export const wantsShakedown = (kind: ServiceKind, restarts: readonly ServiceKind[]): boolean =>
  [kind, ...restarts].some((one) => lineOf(one)?.wantsShakedown === true);

/** Returns whether no kind of the workshop's own may be called so: a job without a clock keeps its name everywhere. */
export function isNameTaken(unitKind: UnitKind, name: ServiceKind): boolean {
  const of = lineOf(name)?.of ?? {};
  return of[unitKind] !== undefined || Object.values(of).includes(null);
}

/** Returns the jobs that may be logged for a kind of unit, those without a clock last. */
export const jobsOf = (unitKind: UnitKind, added: readonly AddedServiceKind[]): ServiceKind[] => [
  ...serviceKindsOf(unitKind, added).map((kind) => kind.name),
  ...LINES.flatMap(([name, { of }]) => (of[unitKind] === null ? [name] : [])),
];

/** What a workshop's own service kind takes on the bench until it says otherwise. */
const ADDED_BENCH_MINUTES = 60;

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
  const kinds = LINES.flatMap(([name, { of, restarts }]): ServiceKindTerms[] => {
    const defaults = of[unitKind];
    return defaults ? [{ unitKind, name, restarts, ...defaults }] : [];
  });
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
  if (!kind) return lineOf(name)?.of[unitKind] === null ? [] : null;
  return kind.restarts === 'all' ? kinds.map((one) => one.name) : kind.restarts;
}
