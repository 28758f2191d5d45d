/** The way by even steps of time, on which lifts and vehicles show. */
import { msOf } from '../../../units.js';
import type { Plane } from './ellipsoid.js';
import { hasHole, isMissing } from './missing.js';
import type { KeptSamples } from './steps.js';

/** Units: seconds. */
export const GRID_S = 5;
/** A longer step leaves open what happened in it, and ends a run. */
const LONGEST_STEP_S = 60;

/** Nodes every 5 s of one run without a gap; NaN where unknown. Units: milliseconds since 1970, metres; wayM cumulative. */
export interface TimeGrid {
  readonly startMs: number;
  readonly count: number;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly zM: Float64Array;
  readonly wayM: Float64Array;
  /** Units: beats and turns a minute, watts; null where they were not recorded. */
  readonly heartBpm: Float64Array | null;
  readonly cadenceRpm: Float64Array | null;
  readonly powerW: Float64Array | null;
}

/**
 * Returns a grid for each run of steps of up to 60 s.
 * `eleM` and `stepM` stand beside the kept samples.
 */
export function timeGrids(
  kept: KeptSamples,
  columns: { readonly plane: Plane; readonly eleM: Float64Array; readonly stepM: Float64Array },
): TimeGrid[] {
  const { count, timeMs, begins } = kept;
  const grids: TimeGrid[] = [];
  let from = 0;
  for (let i = 1; i <= count; i++) {
    const ends = i === count || begins[i] === 1 || timeMs[i]! - timeMs[i - 1]! > msOf(LONGEST_STEP_S);
    if (!ends) continue;
    if (i - from > 1) grids.push(gridOfRun(kept, columns, from, i));
    from = i;
  }
  return grids;
}

function gridOfRun(
  { timeMs, effort }: KeptSamples,
  {
    plane,
    eleM,
    stepM,
  }: { readonly plane: Plane; readonly eleM: Float64Array; readonly stepM: Float64Array },
  from: number,
  to: number,
): TimeGrid {
  const wayM = new Float64Array(to - from);
  for (let i = from + 1; i < to; i++)
    wayM[i - from] = wayM[i - from - 1]! + (Number.isNaN(stepM[i]!) ? 0 : stepM[i]!);
  const time = timeMs.subarray(from, to);
  const nodes = nodesOf(time);
  const spread = (column: Float64Array) => atNodes(nodes, time, column);
  const told = (column: Float64Array | undefined) => {
    const part = column?.subarray(from, to);
    return part === undefined || isMissing(part) ? null : spread(part);
  };
  return {
    startMs: time[0]!,
    count: nodes.before.length,
    eastM: spread(plane.eastM.subarray(from, to)),
    northM: spread(plane.northM.subarray(from, to)),
    zM: spread(eleM.subarray(from, to)),
    wayM: spread(wayM),
    heartBpm: told(effort?.heartBpm),
    cadenceRpm: told(effort?.cadenceRpm),
    powerW: told(effort?.powerW),
  };
}

/** Where nodes lie among the samples of a run: so much of the way from one sample to the next. */
interface GridNodes {
  readonly before: Int32Array;
  readonly share: Float64Array;
}

function nodesOf(time: Float64Array): GridNodes {
  const count = Math.floor((time[time.length - 1]! - time[0]!) / msOf(GRID_S)) + 1;
  const before = new Int32Array(count);
  const share = new Float64Array(count);
  let after = 0;
  for (let k = 0; k < count; k++) {
    const at = time[0]! + k * msOf(GRID_S);
    while (time[after]! < at) after += 1;
    const isHere = time[after] === at;
    before[k] = isHere ? after : after - 1;
    if (!isHere) share[k] = (at - time[after - 1]!) / (time[after]! - time[after - 1]!);
  }
  return { before, share };
}

/** Linear between the known values on either side of a node; holes of over a minute stay open. */
function atNodes({ before, share }: GridNodes, time: Float64Array, column: Float64Array): Float64Array {
  if (hasHole(column)) return overHoles(before.length, time, column);
  const nodes = new Float64Array(before.length);
  for (let k = 0; k < nodes.length; k++) {
    const value = column[before[k]!]!;
    const part = share[k]!;
    nodes[k] = part === 0 ? value : value + part * (column[before[k]! + 1]! - value);
  }
  return nodes;
}

function overHoles(count: number, time: Float64Array, column: Float64Array): Float64Array {
  const nodes = new Float64Array(count).fill(Number.NaN);
  let before = -1;
  let after = 0;
  for (let k = 0; k < count; k++) {
    const at = time[0]! + k * msOf(GRID_S);
    while (after < time.length && (time[after]! < at || Number.isNaN(column[after]!))) {
      if (time[after]! <= at && !Number.isNaN(column[after]!)) before = after;
      after += 1;
    }
    if (after === time.length) break;
    if (time[after] === at) nodes[k] = column[after]!;
    else if (before >= 0 && time[after]! - time[before]! <= msOf(LONGEST_STEP_S)) {
      const share = (at - time[before]!) / (time[after]! - time[before]!);
      nodes[k] = column[before]! + share * (column[after]! - column[before]!);
    }
  }
  return nodes;
}

/** Returns the moments that nodes from `from` to `to` span. Units: milliseconds since 1970. */
export const stretchOf = (grid: TimeGrid, from: number, to: number): readonly [number, number] => [
  grid.startMs + from * msOf(GRID_S),
  grid.startMs + to * msOf(GRID_S),
];

/** Returns the runs of ones. Shape: [from, to] indexes, half open. */
export function runsOf(marks: Uint8Array): [number, number][] {
  const runs: [number, number][] = [];
  let from = -1;
  for (let i = 0; i <= marks.length; i++) {
    const isMarked = marks[i] === 1;
    if (isMarked && from < 0) from = i;
    if (!isMarked && from >= 0) {
      runs.push([from, i]);
      from = -1;
    }
  }
  return runs;
}
