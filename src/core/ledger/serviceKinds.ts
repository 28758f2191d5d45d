/** The jobs that each kind of unit is serviced with, and what a workshop may add. */
import type { ServiceKind, Spring, UnitKind } from '../tokens.js';

/** What decides which jobs a unit has. A fork without a word on its spring has air. */
export interface UnitSort {
  readonly unitKind: UnitKind;
  readonly spring?: Spring;
}

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
  /** The clocks that it restarts; left out: its own. */
  readonly restarts?: readonly ServiceKind[];
  /** Other kinds that restart its clock, beside the full service; left out: none. */
  readonly restartedBy?: readonly ServiceKind[];
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
  /** A fork has it only with that spring. */
  readonly spring?: Spring;
  /** A line of older books: it can be read, and is logged no more. */
  readonly isFormer?: true;
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
  'lower-leg': { of: { fork: per(50, 12, 60) }, restarts: ['lower-leg'] },
  'air-spring': { of: { fork: per(100, null, 90) }, restarts: ['air-spring', 'lower-leg'], spring: 'air' },
  damper: { of: { fork: per(150, null, 120) }, restarts: ['damper', 'lower-leg'], wantsShakedown: true },
  'air-sleeve': { of: { 'air-shock': per(50, 12, 30) }, restarts: ['air-sleeve'] },
  bushings: {
    of: { 'air-shock': per(50, null, 20), 'coil-shock': per(50, null, 20) },
    restarts: ['bushings'],
  },
  full: {
    of: { fork: per(200, null, 150), 'air-shock': per(200, null, 120), 'coil-shock': per(200, null, 120) },
    restarts: 'all',
    wantsShakedown: true,
  },
  'seal-repair': { of: { fork: null, 'air-shock': null, 'coil-shock': null }, restarts: [] },
  tune: { of: { fork: null, 'air-shock': null, 'coil-shock': null }, restarts: [] },
  'travel-change': { of: { fork: null }, restarts: [] },
  'bushing-resize': { of: { fork: null }, restarts: [] },
  'wipers-only': { of: { fork: null }, restarts: [], isFormer: true },
} as const satisfies Readonly<Record<string, BuiltIn>>;

export type BuiltInServiceKind = keyof typeof BUILT_IN;
export const BUILT_IN_SERVICE_KINDS = Object.keys(BUILT_IN) as readonly BuiltInServiceKind[];

const LINES: readonly (readonly [BuiltInServiceKind, BuiltIn])[] = BUILT_IN_SERVICE_KINDS.map((name) => [
  name,
  BUILT_IN[name],
]);
const lineOf = (name: ServiceKind): BuiltIn | undefined => LINES.find(([one]) => one === name)?.[1];

/** Returns whether a unit wants to be ridden in after a job, before it races. */
export const wantsShakedown = (kind: ServiceKind, restarts: readonly ServiceKind[]): boolean =>
  [kind, ...restarts].some((one) => lineOf(one)?.wantsShakedown === true);

/** Returns whether no kind of the workshop's own may be called so: a job without a clock keeps its name everywhere. */
export function isNameTaken(unitKind: UnitKind, name: ServiceKind): boolean {
  const of = lineOf(name)?.of ?? {};
  return of[unitKind] !== undefined || Object.values(of).includes(null);
}

/** Returns the jobs that may be logged for a unit, those without a clock last. */
export const jobsOf = (sort: UnitSort, added: readonly AddedServiceKind[]): ServiceKind[] => [
  ...serviceKindsOf(sort, added).map((kind) => kind.name),
  ...LINES.flatMap(([name, { of, isFormer }]) => (of[sort.unitKind] === null && !isFormer ? [name] : [])),
];

/** Returns whether a job is a line of older books that nobody logs any more. */
export const isFormerJob = (name: ServiceKind): boolean => lineOf(name)?.isFormer === true;

/** What a workshop's own service kind takes on the bench until it says otherwise. */
const ADDED_BENCH_MINUTES = 60;

const termsOfAdded = (added: AddedServiceKind): ServiceKindTerms => ({
  unitKind: added.unitKind,
  name: added.name,
  terrainHours: added.terrainHours ?? null,
  months: added.months ?? null,
  benchMinutes: added.benchMinutes ?? ADDED_BENCH_MINUTES,
  restarts: added.restarts ?? [added.name],
});

const hasSpring = ({ unitKind, spring = 'air' }: UnitSort, line: BuiltIn): boolean =>
  line.spring === undefined || unitKind !== 'fork' || line.spring === spring;

/**
 * Returns the service kinds of a unit, built-in ones first. One that a workshop added before it was built in keeps the
 * workshop's interval, minutes and clocks.
 */
export function serviceKindsOf(sort: UnitSort, added: readonly AddedServiceKind[]): ServiceKindTerms[] {
  const { unitKind } = sort;
  const own = added.filter((kind) => kind.unitKind === unitKind);
  const builtIn = LINES.flatMap(([name, line]): ServiceKindTerms[] => {
    const defaults = line.of[unitKind];
    if (!defaults || !hasSpring(sort, line) || own.some((kind) => kind.name === name)) return [];
    return [{ unitKind, name, restarts: line.restarts, ...defaults }];
  });
  return [...builtIn, ...own.map(termsOfAdded)];
}

/** Returns the terms of one service kind, or undefined where this unit has no such job: a coil has no air. */
export const findServiceKind = (
  sort: UnitSort,
  name: ServiceKind,
  added: readonly AddedServiceKind[],
): ServiceKindTerms | undefined => serviceKindsOf(sort, added).find((kind) => kind.name === name);

/** Returns the clocks that a job restarts unless the person says otherwise; null where the unit has no such job. */
export function defaultRestarts(
  sort: UnitSort,
  name: ServiceKind,
  added: readonly AddedServiceKind[],
): readonly ServiceKind[] | null {
  const kinds = serviceKindsOf(sort, added);
  const kind = kinds.find((one) => one.name === name);
  if (!kind) return lineOf(name)?.of[sort.unitKind] === null ? [] : null;
  if (kind.restarts === 'all') return kinds.map((one) => one.name);
  const joined = added.filter((own) => own.unitKind === sort.unitKind && own.restartedBy?.includes(name));
  const clocks = new Set([...kind.restarts, ...joined.map((own) => own.name)]);
  return kinds.map((one) => one.name).filter((clock) => clocks.has(clock));
}
