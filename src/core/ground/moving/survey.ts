import { liftStretches } from '../climbs/lift.js';
import { vehicleStretches } from '../climbs/vehicle.js';
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

/** Whose a step is: the rider's, a lift's, or perhaps a vehicle's. */
export type Aboard = typeof RIDDEN | typeof LIFTED | typeof DRIVEN;
export const RIDDEN = 1;
export const LIFTED = 2;
export const DRIVEN = 3;

/** Returns for each step whose it is; `doubtful` stretches may be a vehicle's whatever they look like. Lifts go first, so that a day of lifts is not asked about. Shape: `Aboard` by step. */
export function aboardOf(
  { kept, plane, eleM, distances, untimed }: Survey,
  indoor: boolean,
  doubtful: readonly Stretch[] = [],
): Uint8Array {
  const aboard = new Uint8Array(kept.count).fill(RIDDEN);
  if (untimed || indoor) return aboard;
  const grids = timeGrids(kept, { plane, eleM, stepM: distances.stepM });
  const lifts = liftStretches(grids);
  mark(kept, aboard, vehicleStretches(grids, lifts), DRIVEN);
  mark(kept, aboard, lifts, LIFTED);
  mark(kept, aboard, doubtful, DRIVEN);
  return aboard;
}

/** A step belongs to the stretch that its middle lies in. */
function mark(
  { count, timeMs }: KeptSamples,
  aboard: Uint8Array,
  stretches: readonly Stretch[],
  whose: Aboard,
): void {
  let i = 1;
  const middle = (step: number) => (timeMs[step]! + timeMs[step - 1]!) / 2;
  for (const [from, to] of stretches) {
    while (i < count && middle(i) < from) i += 1;
    for (; i < count && middle(i) <= to; i++) aboard[i] = whose;
  }
}
