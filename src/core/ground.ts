/** The ridden ground of a recording as continuous paths, for terrain, climb and profile. */

import { HALT, MOVING } from './moving.js';
import type { MovingPath } from './movingPath.js';
import type { KeptSamples } from './steps.js';

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
 * Returns the paths of the moving steps that `taken[i]` 1 names. A path runs on over halts inside a span, since its
 * metres are moving ones; it ends with the span, at a gap, at a step of unknown length and where steps are not taken.
 */
export function groundPaths(kept: KeptSamples, columns: GroundColumns, taken: Uint8Array): GroundPath[] {
  const { states, stepM } = columns;
  const paths: GroundPath[] = [];
  let steps: number[] = [];
  const close = () => {
    if (steps.length > 0) paths.push(pathOf(kept, columns, steps));
    steps = [];
  };
  for (let i = 1; i < kept.count; i++) {
    if (states[i] === MOVING && taken[i] === 1 && !Number.isNaN(stepM[i]!)) steps.push(i);
    else if (states[i] !== HALT) close();
  }
  close();
  return paths;
}

function pathOf(kept: KeptSamples, { eleM, stepM, speedMps }: GroundColumns, steps: number[]): GroundPath {
  const column = () => new Float64Array(steps.length + 1);
  const path = { xM: column(), zM: column(), tS: column(), lat: column(), lon: column(), speedMps: column() };
  const readM = column();
  let shift = 0;
  const node = (at: number, sample: number) => {
    readM[at] = eleM[sample]!;
    path.zM[at] = eleM[sample]! + shift;
    path.lat[at] = kept.lat[sample]!;
    path.lon[at] = kept.lon[sample]!;
    path.speedMps[at] = speedMps[sample]!;
  };
  node(0, steps[0]! - 1);
  steps.forEach((step, k) => {
    const before = steps[k - 1];
    if (before !== undefined && before !== step - 1) {
      const drift = eleM[step - 1]! - eleM[before]!;
      if (!Number.isNaN(drift)) shift -= drift;
    }
    path.xM[k + 1] = path.xM[k]! + stepM[step]!;
    path.tS[k + 1] = path.tS[k]! + (kept.timeMs[step]! - kept.timeMs[step - 1]!) / 1000;
    node(k + 1, step);
  });
  return { path, readM };
}
