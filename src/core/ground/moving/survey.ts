import { type DayClimb, dayClimbs, isLikelyRidden } from '../climbs/dayClimbs.js';
import { driveStretches } from '../climbs/drives.js';
import { type StepDistances, stepDistances } from '../samples/distance.js';
import { isFlat, usableElevation } from '../samples/elevation.js';
import { type Plane, planeOf } from '../samples/ellipsoid.js';
import type { Stretch } from '../samples/intervals.js';
import { notesOf } from '../samples/notes.js';
import type { Note } from '../samples/recording.js';
import type { KeptSamples } from '../samples/steps.js';
import { timeGrids } from '../samples/timeGrid.js';
import { everyStep, movingSteps } from './moving.js';

/** The kept samples measured: how high, how far, and in which steps the bike moved. */
export interface Survey {
  readonly kept: KeptSamples;
  readonly plane: Plane;
  readonly eleM: Float64Array;
  readonly distances: StepDistances;
  /** As `movingSteps` returns them. */
  readonly states: Uint8Array;
  /** The file has no times: every step counts as moving, and none has a duration. */
  readonly untimed: boolean;
  readonly notes: readonly Note[];
}

/** Returns the samples measured. Indoors, where nothing measures the way, the timer stands for moving. */
export function surveyOf(kept: KeptSamples, indoor: boolean): Survey {
  const plane = planeOf(kept.lat, kept.lon);
  const distances = stepDistances(kept);
  const elevation = usableElevation(kept);
  const flat = isFlat(elevation.eleM, distances.stepM);
  const untimed = Number.isNaN(kept.timeMs[0]!);
  const byTimer = indoor && distances.source === 'none';
  const found = notesOf({ 'elevation-impossible': elevation.dropped, 'elevation-flat': flat ? 1 : 0 });
  return {
    kept,
    plane,
    eleM: flat ? elevation.eleM.fill(Number.NaN) : elevation.eleM,
    distances,
    states: untimed || byTimer ? everyStep(kept) : movingSteps(kept, distances, plane),
    untimed,
    notes: [...distances.notes, ...found],
  };
}

/** Whose a step is: the rider's, not ridden on a climb, or perhaps a vehicle's. */
export type Aboard = typeof RIDDEN | typeof LIFTED | typeof DRIVEN;
export const RIDDEN = 1;
export const LIFTED = 2;
export const DRIVEN = 3;

/** Whose each step is, and the climbs of a day on which not all may have been ridden. Shape: `Aboard` by step. */
export interface AboardSteps {
  readonly aboard: Uint8Array;
  readonly climbs: readonly DayClimb[];
}

/** Returns for each step whose it is; `doubtful` stretches may be a vehicle's whatever they look like. */
export function aboardOf(
  { kept, plane, eleM, distances, untimed }: Survey,
  { indoor, motor }: { readonly indoor: boolean; readonly motor: boolean },
  doubtful: readonly Stretch[] = [],
): AboardSteps {
  const aboard = new Uint8Array(kept.count).fill(RIDDEN);
  if (untimed || indoor) return { aboard, climbs: [] };
  const grids = timeGrids(kept, { plane, eleM, stepM: distances.stepM });
  const climbs = dayClimbs(grids);
  markSteps(kept, aboard, driveStretches(grids), DRIVEN);
  const out = climbs.filter((climb) => !isLikelyRidden(climb, motor));
  markSteps(
    kept,
    aboard,
    out.map(({ fromMs, toMs }): Stretch => [fromMs, toMs]),
    LIFTED,
  );
  markSteps(kept, aboard, doubtful, DRIVEN);
  return { aboard, climbs };
}

/** Marks the steps whose middle lies in a stretch. */
export function markSteps(
  { count, timeMs }: KeptSamples,
  marks: Uint8Array,
  stretches: readonly Stretch[],
  as: number,
): void {
  let i = 1;
  const middle = (step: number) => (timeMs[step]! + timeMs[step - 1]!) / 2;
  for (const [from, to] of stretches) {
    while (i < count && middle(i) < from) i += 1;
    for (; i < count && middle(i) <= to; i++) marks[i] = as;
  }
}
