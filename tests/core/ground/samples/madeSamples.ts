import type { Samples } from '../../../../src/core/ground/samples/recording.js';

/** Returns samples with these values; what a row leaves out is missing, and a row without a place is at 0.5, 0.5. */
export function madeSamples(rows: readonly Partial<Record<keyof Samples, number>>[]): Samples {
  const column = (key: keyof Samples, otherwise = Number.NaN): Float64Array =>
    Float64Array.from(rows, (row) => row[key] ?? otherwise);
  return {
    count: rows.length,
    timeMs: column('timeMs'),
    lat: column('lat', 0.5),
    lon: column('lon', 0.5),
    eleM: column('eleM'),
    distM: column('distM'),
    speedMps: column('speedMps'),
  };
}
