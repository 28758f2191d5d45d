/** The ridden ground of a recording as continuous paths, for terrain, climb and profile. */

import { secondsIn } from '../../../units.js';
import { HALT, MOVING } from '../moving/moving.js';
import type { Aboard } from '../moving/survey.js';
import type { KeptSamples } from '../samples/steps.js';
import type { MovingPath } from './movingPath.js';

/** What the paths are made from, beside the kept samples. */
export interface GroundColumns {
  readonly eleM: Float64Array;
  readonly stepM: Float64Array;
  readonly speedMps: Float64Array;
  /** As `movingSteps` returns them. */
  readonly states: Uint8Array;
}

/** A path, and its elevations as read: those of the path run on over halts, where an altimeter drifts with the weather. */
export interface GroundPath {
  readonly path: MovingPath;
  readonly readM: Float64Array;
}

/**
 * Returns the paths of the moving steps that are `whose` by `aboard`. A path runs on over halts inside a span, since its
 * metres are moving ones; it ends with the span, at a gap, at a step of unknown length and where steps are not taken.
 */
export function groundPaths(
  kept: KeptSamples,
  columns: GroundColumns,
  aboard: Uint8Array,
  whose: Aboard,
): GroundPath[] {
  const { states, stepM } = columns;
  const paths: GroundPath[] = [];
  const steps = new Int32Array(kept.count);
  let size = 0;
  const close = () => {
    if (size > 0) paths.push(pathOf(kept, columns, steps.subarray(0, size)));
    size = 0;
  };
  for (let i = 1; i < kept.count; i++) {
    if (states[i] === MOVING && aboard[i] === whose && !Number.isNaN(stepM[i]!)) steps[size++] = i;
    else if (states[i] !== HALT) close();
  }
  close();
  return paths;
}

/** Steps without a halt between them lie beside one another: what their nodes say is shared, not copied. */
function pathOf(kept: KeptSamples, columns: GroundColumns, steps: Int32Array): GroundPath {
  const first = steps[0]! - 1;
  const last = steps[steps.length - 1]!;
  return last - first === steps.length
    ? unbrokenPath(kept, columns, first, last)
    : brokenPath(kept, columns, steps);
}

function unbrokenPath(
  { timeMs, lat, lon }: KeptSamples,
  { eleM, stepM, speedMps }: GroundColumns,
  first: number,
  last: number,
): GroundPath {
  const xM = new Float64Array(last - first + 1);
  const tS = new Float64Array(last - first + 1);
  for (let k = 1; k < xM.length; k++) {
    xM[k] = xM[k - 1]! + stepM[first + k]!;
    tS[k] = tS[k - 1]! + secondsIn(timeMs[first + k]! - timeMs[first + k - 1]!);
  }
  const shared = (column: Float64Array): Float64Array => column.subarray(first, last + 1);
  const readM = shared(eleM);
  return {
    path: { xM, zM: readM, tS, lat: shared(lat), lon: shared(lon), speedMps: shared(speedMps) },
    readM,
  };
}

function brokenPath(
  kept: KeptSamples,
  { eleM, stepM, speedMps }: GroundColumns,
  steps: Int32Array,
): GroundPath {
  const column = () => new Float64Array(steps.length + 1);
  const path = { xM: column(), zM: column(), tS: column(), lat: column(), lon: column(), speedMps: column() };
  const readM = column();
  let shift = 0;
  for (let k = 0; k <= steps.length; k++) {
    const sample = k === 0 ? steps[0]! - 1 : steps[k - 1]!;
    if (k > 0) {
      const before = k === 1 ? sample - 1 : steps[k - 2]!;
      const drift = before === sample - 1 ? 0 : eleM[sample - 1]! - eleM[before]!;
      if (!Number.isNaN(drift)) shift -= drift;
      path.xM[k] = path.xM[k - 1]! + stepM[sample]!;
      path.tS[k] = path.tS[k - 1]! + secondsIn(kept.timeMs[sample]! - kept.timeMs[sample - 1]!);
    }
    readM[k] = eleM[sample]!;
    path.zM[k] = eleM[sample]! + shift;
    path.lat[k] = kept.lat[sample]!;
    path.lon[k] = kept.lon[sample]!;
    path.speedMps[k] = speedMps[sample]!;
  }
  return { path, readM };
}
