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

/** Keeps the words as they are written, so that each language has to name every one. */
const line = <const Side extends string, const What extends string>(
  side: Side,
  what: What,
  of: readonly Build[],
) => ({ side, what, of });

/** A line each: of which side, what it says, and the units that have it. */
const LINES = {
  airOil: line('air', 'oil', AIR_FORK),
  airMl: line('air', 'ml', AIR_FORK),
  airTorque: line('air', 'nutTorque', AIR_FORK),
  airSocket: line('air', 'nutSocket', AIR_FORK),
  springOil: line('spring', 'oil', COIL_FORK),
  springMl: line('spring', 'ml', COIL_FORK),
  springTorque: line('spring', 'nutTorque', COIL_FORK),
  springSocket: line('spring', 'nutSocket', COIL_FORK),
  canOil: line('can', 'oil', AIR_SHOCK),
  canMl: line('can', 'ml', AIR_SHOCK),
  damperOil: line('damper', 'oil', ALL_BUILDS),
  damperMl: line('damper', 'ml', ALL_BUILDS),
  damperTorque: line('damper', 'nutTorque', FORKS),
  damperSocket: line('damper', 'nutSocket', FORKS),
  damperPressure: line('damper', 'pressure', SHOCKS),
  mountTorque: line('mounts', 'torque', SHOCKS),
  mountSocket: line('mounts', 'socket', SHOCKS),
  pressure: line('whole', 'pressure', WITH_AIR),
  pressureMost: line('whole', 'most', WITH_AIR),
} as const;

export type SheetLine = keyof typeof LINES;
export type SheetSide = (typeof LINES)[SheetLine]['side'];
export type SheetWhat = (typeof LINES)[SheetLine]['what'];
const SHEET_LINES = Object.keys(LINES) as readonly SheetLine[];

/** Returns of which side a line is, and what it says. */
export const partsOfLine = (name: SheetLine): { readonly side: SheetSide; readonly what: SheetWhat } =>
  LINES[name];

/** Returns the lines that a sheet for such a unit has. */
export const sheetLines = (sort: UnitSort): SheetLine[] =>
  SHEET_LINES.filter((name) => LINES[name].of.includes(buildOf(sort)));

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
