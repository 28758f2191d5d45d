import type { Effort, Samples } from './recording.js';

/** Returns the samples with each column made anew. */
const mapColumns = (
  { timeMs, lat, lon, eleM, distM, speedMps, effort }: Samples,
  count: number,
  to: (column: Float64Array) => Float64Array,
): Samples => ({
  count,
  timeMs: to(timeMs),
  lat: to(lat),
  lon: to(lon),
  eleM: to(eleM),
  distM: to(distM),
  speedMps: to(speedMps),
  ...(effort && { effort: mapEffort(effort, to) }),
});

/** Returns what the rider did with each column made anew. */
export const mapEffort = (
  { heartBpm, cadenceRpm, powerW }: Effort,
  to: (column: Float64Array) => Float64Array,
): Effort => ({ heartBpm: to(heartBpm), cadenceRpm: to(cadenceRpm), powerW: to(powerW) });

/** Returns a stretch of samples, sharing their memory. */
export const sliceSamples = (samples: Samples, from: number, to: number): Samples =>
  mapColumns(samples, to - from, (column) => column.subarray(from, to));

/** Returns the rows of so many samples, from the first to the last. */
export function allRows(count: number): Int32Array {
  const rows = new Int32Array(count);
  for (let i = 0; i < count; i += 1) rows[i] = i;
  return rows;
}

/** Returns the samples at these rows, in their order; the same samples where these are all as they stand. */
export function pickSamples(samples: Samples, rows: ArrayLike<number>): Samples {
  let isAll = rows.length === samples.count;
  for (let i = 0; i < rows.length && isAll; i += 1) isAll = rows[i] === i;
  if (isAll) return samples;
  return mapColumns(samples, rows.length, (column) => {
    const picked = new Float64Array(rows.length);
    for (let i = 0; i < rows.length; i += 1) picked[i] = column[rows[i]!]!;
    return picked;
  });
}
