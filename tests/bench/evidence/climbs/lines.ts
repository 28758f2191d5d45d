/** Ways that somebody rode, taken from a folder of recordings: only their shape and height by distance are used. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { planeOf } from '../../../../src/core/ground/samples/ellipsoid.js';
import { recordingOf } from '../rideSet.js';

/** A way by even steps of distance. Units: metres. */
export interface Line {
  readonly file: string;
  readonly eastM: readonly number[];
  readonly northM: readonly number[];
  readonly eleM: readonly number[];
}
/** Units: metres between two points of a line. */
export const LINE_STEP_M = 5;

const SMOOTH = 6;
const LOWEST_GAIN_M = 60;

/** Returns the ways up and down of all rides in the folder, each one that climbs or falls by 60 m and more. */
export function linesOf(folder: string): { readonly up: Line[]; readonly down: Line[] } {
  const files = readdirSync(join(folder, 'rides')).filter((file) =>
    /^(mountain|bike|gravel|road)/.test(file),
  );
  const all = files.flatMap((file) => {
    try {
      return [wayOf(folder, file)];
    } catch {
      return [];
    }
  });
  const up = all.flatMap((line) => partsThat(line, 1));
  const down = all.flatMap((line) => partsThat(line, -1));
  return { up, down };
}

function wayOf(folder: string, file: string): Line {
  const { samples } = recordingOf(folder, file);
  const { eastM, northM } = planeOf(samples.lat, samples.lon);
  const way = { eastM: [] as number[], northM: [] as number[], eleM: [] as number[] };
  let [last, left] = [-1, 0];
  for (let i = 0; i < samples.count; i++) {
    if (Number.isNaN(eastM[i]!) || Number.isNaN(samples.eleM[i]!)) continue;
    if (last >= 0) {
      const hop = Math.hypot(eastM[i]! - eastM[last]!, northM[i]! - northM[last]!);
      if (hop > 200) left = 0;
      else
        for (left += hop; left >= LINE_STEP_M; left -= LINE_STEP_M) {
          const share = hop === 0 ? 1 : 1 - (left - LINE_STEP_M) / hop;
          way.eastM.push(eastM[last]! + share * (eastM[i]! - eastM[last]!));
          way.northM.push(northM[last]! + share * (northM[i]! - northM[last]!));
          way.eleM.push(samples.eleM[last]! + share * (samples.eleM[i]! - samples.eleM[last]!));
        }
    }
    last = i;
  }
  const eleM = way.eleM.map((_, k) => {
    const near = way.eleM.slice(Math.max(0, k - SMOOTH), k + SMOOTH + 1);
    return near.reduce((a, b) => a + b, 0) / near.length;
  });
  return { file, ...way, eleM };
}

/** Runs that go up (or down) without coming back by more than 10 m. */
function partsThat(line: Line, sign: 1 | -1): Line[] {
  const parts: Line[] = [];
  const z = (k: number): number => sign * line.eleM[k]!;
  let from = 0;
  let top = 0;
  const close = (): void => {
    if (z(top) - z(from) >= LOWEST_GAIN_M && z(top) - z(from) >= 0.02 * (top - from) * LINE_STEP_M) {
      const cut = (column: readonly number[]): number[] => column.slice(from, top + 1);
      parts.push({ file: line.file, eastM: cut(line.eastM), northM: cut(line.northM), eleM: cut(line.eleM) });
    }
  };
  for (let k = 1; k < line.eleM.length; k++) {
    if (z(k) > z(top)) top = k;
    if (z(top) - z(k) > 10 || (top === from && z(k) < z(from))) {
      close();
      from = k;
      top = k;
    }
  }
  close();
  return parts;
}
