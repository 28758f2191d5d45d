/**
 * What the maker's manual says about a model and year, as people typed it: by side, because the two sides take other
 * oils and torques. Nothing is filled in here.
 */
import { ALL_BUILDS, type Build, buildOf, FORKS, SHOCKS, WITH_AIR } from './build.js';
import type { SheetFact, UnitFact } from './facts.js';
import type { UnitSort } from './serviceKinds.js';

const AIR_FORK: readonly Build[] = ['air-fork'];
const COIL_FORK: readonly Build[] = ['coil-fork'];
const AIR_SHOCK: readonly Build[] = ['air-shock'];

/** A line each, and the units that have it. */
const LINES = {
  airOil: AIR_FORK,
  airMl: AIR_FORK,
  airTorque: AIR_FORK,
  airSocket: AIR_FORK,
  springOil: COIL_FORK,
  springMl: COIL_FORK,
  springTorque: COIL_FORK,
  springSocket: COIL_FORK,
  canOil: AIR_SHOCK,
  canMl: AIR_SHOCK,
  damperOil: ALL_BUILDS,
  damperMl: ALL_BUILDS,
  damperTorque: FORKS,
  damperSocket: FORKS,
  mountTorque: SHOCKS,
  mountSocket: SHOCKS,
  pressure: WITH_AIR,
  pressureMost: WITH_AIR,
  damperPressure: SHOCKS,
} as const satisfies Readonly<Record<string, readonly Build[]>>;

export type SheetLine = keyof typeof LINES;
const SHEET_LINES = Object.keys(LINES) as readonly SheetLine[];

/** Returns the lines that a sheet for such a unit has. */
export const sheetLines = (sort: UnitSort): SheetLine[] =>
  SHEET_LINES.filter((name) => (LINES[name] as readonly Build[]).includes(buildOf(sort)));

/** Returns whether two sheets are for the same units. */
export const isSameSheet = (a: Pick<SheetFact, 'scope'> & UnitSort, b: typeof a): boolean =>
  (a.scope.unitId !== null || buildOf(a) === buildOf(b)) &&
  a.scope.unitId === b.scope.unitId &&
  a.scope.model === b.scope.model &&
  a.scope.modelYear === b.scope.modelYear;

/** One line as it holds for a unit. */
export interface ShownLine {
  readonly name: SheetLine;
  readonly value: string;
  /** It was typed for this unit alone. */
  readonly isOwn: boolean;
}

/** What holds for a unit: its model's sheet, and what differs for the unit alone. */
export interface UnitSheet<S extends SheetFact = SheetFact> {
  readonly lines: readonly ShownLine[];
  readonly model: S | null;
  readonly own: S | null;
}

/** Returns what holds for a unit: the sheet of its model and year, else of its model; its own lines come first. */
export function sheetFor<S extends SheetFact>(
  unitId: string | null,
  unit: Pick<UnitFact, 'unitKind' | 'spring' | 'model' | 'modelYear'>,
  sheets: readonly S[],
): UnitSheet<S> {
  const own = sheets.find(({ scope }) => unitId !== null && scope.unitId === unitId) ?? null;
  const ofModel = sheets.filter(
    (one) =>
      one.scope.unitId === null &&
      one.scope.model !== null &&
      one.scope.model === unit.model &&
      buildOf(one) === buildOf(unit),
  );
  const ofYear = (year: number | null): S | undefined =>
    ofModel.find(({ scope }) => scope.modelYear === year);
  const model = (unit.modelYear === undefined ? undefined : ofYear(unit.modelYear)) ?? ofYear(null) ?? null;
  const lines = sheetLines(unit).flatMap((name): ShownLine[] => {
    const differs = own?.values[name];
    const value = differs ?? model?.values[name];
    return value === undefined ? [] : [{ name, value, isOwn: differs !== undefined }];
  });
  return { lines, model, own };
}
