/** What can be at all, whichever format says it: where a bicycle may be, how high, how fast and how far. */
import type { NoteCounter } from './notes.js';
import type { Effort, Samples } from './recording.js';

/** No ground outside these lies under a bicycle; a FIT file's lowest number, -500 m, is a sensor that says nothing. */
const LOWEST_M = -500;
const HIGHEST_M = 9000;
/** Far beyond any counter in any unit of its own: a field whose type holds everything can say anything. */
const FASTEST_MPS = 100_000;
const FARTHEST_M = 10_000_000_000;

/** Returns whether this is a place on earth. Source: gpx.xsd, latitudeType and longitudeType: -180 is a longitude, 180 is not. */
export const isOnEarth = (lat: number, lon: number): boolean =>
  lat >= -90 && lat <= 90 && lon >= -180 && lon < 180;

/** Returns whether a bicycle may be there; (0, 0) is what recorders write before they know where they are. */
export const mayBeThere = (lat: number, lon: number): boolean =>
  isOnEarth(lat, lon) && (lat !== 0 || lon !== 0);

/** Takes out of the samples every value that cannot be, and counts it. A loop a column, because a call a value costs more. */
export function dropImpossible(samples: Samples, notes: NoteCounter): void {
  const { lat, lon, eleM, distM, speedMps } = samples;
  for (let i = 0; i < samples.count; i += 1) {
    if (isOnEarth(lat[i]!, lon[i]!)) continue;
    if (!Number.isNaN(lat[i]!) && !Number.isNaN(lon[i]!)) notes.add('position-out-of-range');
    lat[i] = Number.NaN;
    lon[i] = Number.NaN;
  }
  for (let i = 0; i < eleM.length; i += 1) {
    const z = eleM[i]!;
    if (z > LOWEST_M && z <= HIGHEST_M) continue;
    if (!Number.isNaN(z)) notes.add('elevation-out-of-range');
    eleM[i] = Number.NaN;
  }
  for (let i = 0; i < distM.length; i += 1) {
    const metres = distM[i]!;
    if (metres >= 0 && metres < FARTHEST_M) continue;
    if (!Number.isNaN(metres)) notes.add('distance-out-of-range');
    distM[i] = Number.NaN;
  }
  for (let i = 0; i < speedMps.length; i += 1) {
    const mps = speedMps[i]!;
    if (mps >= 0 && mps < FASTEST_MPS) continue;
    if (!Number.isNaN(mps)) notes.add('speed-out-of-range');
    speedMps[i] = Number.NaN;
  }
  if (samples.effort !== undefined) dropImpossibleEffort(samples.effort);
}

/** Strong hearts and legs, and no more; a strap that is not worn writes noughts. */
function dropImpossibleEffort({ heartBpm, cadenceRpm, powerW }: Effort): void {
  const among = (column: Float64Array, least: number, most: number): void => {
    for (let i = 0; i < column.length; i += 1)
      if (!(column[i]! >= least && column[i]! <= most)) column[i] = Number.NaN;
  };
  among(heartBpm, 30, 250);
  among(cadenceRpm, 0, 250);
  among(powerW, 0, 3000);
}
