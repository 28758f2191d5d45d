import { joined, quantile } from '../../chance/quantile.js';
import type { ElevationNodes } from './groundGrid.js';

/** What the record of altitude adds of its own: in steps, and in time where ground changes with distance. */
export interface AltitudeNoise {
  /** The step in which altitude is recorded, 0 where there is none. Units: metres. */
  readonly stepM: number;
  /** Up and down together, per metre ridden. */
  readonly changePerM: number;
  /** The mean over all moving time. */
  readonly speedMps: number;
  /** A short time, what third differences over it vary (without the steps), and the way ridden in it. */
  readonly lagS: number;
  readonly variance: number;
  readonly lagM: number;
  /** How the variance grows with time: 0 as white noise, 1 as a random walk. */
  readonly growth: number;
}

/** Altimeters smooth over seconds, so what changes faster than this is noise. Units: seconds. */
const SHORTEST_LAG_S = 2;
/** A third difference as large as this is a fault of the record. Units: metres. */
const JUMP_M = 20;
/** Smaller changes are those of binary fractions. Units: metres. */
const LEAST_CHANGE_M = 1e-6;
/** A random walk that gains variance D a second has D · lag · 6/20 in a squared third difference over 20. */
const RANDOM_WALK = 6 / 20;

/** Returns the noise of the altitude as its shortest time lags show it, where the ride is slow and ground shows least. */
export function altitudeNoiseOf(paths: readonly ElevationNodes[]): AltitudeNoise {
  const { stepM, changePerM, speedMps, spacingS } = changesOf(paths);
  const changePerS = changePerM * speedMps;
  const lagS = Math.max(SHORTEST_LAG_S, spacingS);
  const series = paths.map((path) => everySeconds(path, lagS));
  const slowM = quantile(joined(series.map(waysOf)), 0.5);
  const near = varianceWithin(series, 1, slowM);
  const far = varianceWithin(series, 2, slowM);
  const variance = Math.max(0, near.variance - stepVariance(stepM, changePerS, lagS));
  const later = Math.max(0, far.variance - stepVariance(stepM, changePerS, 2 * lagS));
  const growth = variance > 0 ? Math.min(1, Math.max(0, Math.log2(later / variance))) : 0;
  return { stepM, changePerM, speedMps, lagS, variance, lagM: near.lagM, growth };
}

/**
 * Returns what recording in steps adds to a squared third difference over 20: a random walk of steps over short lags,
 * a rounding error without memory over long ones. `changePer` is up and down together per unit of `lag`.
 */
export const stepVariance = (stepM: number, changePer: number, lag: number): number =>
  Math.min(stepM ** 2 / 12, RANDOM_WALK * lag * stepM * changePer);

/**
 * Returns how much of V at a lag is noise, where the rest is ground: noise grows with time as it did over the short
 * lags, ground with the square of distance. Never negative, never more than all of it.
 */
export function noiseWithin(noise: AltitudeNoise, v: number, lagM: number): number {
  const later = Math.max(1 / 0.6, lagM / (noise.speedMps * noise.lagS));
  const ground = (noise.lagM / lagM) ** 2;
  const share = Math.max(0.1, later ** -noise.growth - ground);
  return Math.min(v, Math.max(0, (noise.variance - v * ground) / share));
}

interface Changes {
  readonly stepM: number;
  readonly changePerM: number;
  readonly speedMps: number;
  readonly spacingS: number;
}

function changesOf(paths: readonly ElevationNodes[]): Changes {
  const changes = joined(paths.map(({ zM }) => sizes(differences(zM))));
  const metres = total(joined(paths.map(({ xM }) => differences(xM))));
  const spacings = joined(paths.map(({ tS }) => differences(tS)));
  return {
    stepM: stepIn(above(changes, LEAST_CHANGE_M)),
    changePerM: metres > 0 ? total(changes) / metres : 0,
    speedMps: spacings.length > 0 ? metres / total(spacings) : 0,
    spacingS: spacings.length > 0 ? quantile(spacings, 0.5) : 0,
  };
}

function differences(column: Float64Array): Float64Array {
  const steps = new Float64Array(Math.max(0, column.length - 1));
  for (let i = 0; i < steps.length; i += 1) steps[i] = column[i + 1]! - column[i]!;
  return steps;
}

function sizes(column: Float64Array): Float64Array {
  for (let i = 0; i < column.length; i += 1) column[i] = Math.abs(column[i]!);
  return column;
}

function total(column: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < column.length; i += 1) sum += column[i]!;
  return sum;
}

/** Returns those of the values that are more than so much. */
function above(values: Float64Array, least: number): Float64Array {
  const some = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i += 1) if (values[i]! > least) some[count++] = values[i]!;
  return some.subarray(0, count);
}

/** Returns the step that the changes are multiples of, or 0 where they are of any size. */
function stepIn(changes: Float64Array): number {
  if (changes.length === 0) return 0;
  const step = quantile(changes, 0.05);
  let multiples = 0;
  for (let i = 0; i < changes.length; i += 1) {
    const times = changes[i]! / step;
    if (Math.abs(times - Math.round(times)) < 0.1) multiples += 1;
  }
  return multiples >= 0.9 * changes.length ? step : 0;
}

/** Way and elevation at equal times, straight between samples; NaN inside gaps of more than two lags. */
interface TimeSeries {
  readonly xM: Float64Array;
  readonly zM: Float64Array;
}

function everySeconds({ tS, xM, zM }: ElevationNodes, lagS: number): TimeSeries {
  const last = tS.length - 1;
  const size = last < 1 ? 0 : Math.floor((tS[last]! - tS[0]!) / lagS) + 1;
  const x = new Float64Array(size);
  const z = new Float64Array(size);
  let next = 1;
  for (let i = 0; i < size; i += 1) {
    const t = tS[0]! + i * lagS;
    while (next < last && tS[next]! < t) next += 1;
    const before = next - 1;
    const gap = tS[next]! - tS[before]!;
    const share = gap > 0 && gap <= 2 * lagS ? (t - tS[before]!) / gap : Number.NaN;
    x[i] = xM[before]! + share * (xM[next]! - xM[before]!);
    z[i] = zM[before]! + share * (zM[next]! - zM[before]!);
  }
  return { xM: x, zM: z };
}

/** The ways ridden in three lags. */
function waysOf({ xM }: TimeSeries): Float64Array {
  const ways = new Float64Array(Math.max(0, xM.length - 3));
  let count = 0;
  for (let i = 3; i < xM.length; i += 1) {
    const way = xM[i]! - xM[i - 3]!;
    if (!Number.isNaN(way)) ways[count++] = way;
  }
  return ways.subarray(0, count);
}

/** Mean squared third difference over 20 at k lags, and the root mean square way in them, where the ride was slow. */
function varianceWithin(
  series: readonly TimeSeries[],
  k: number,
  slowM: number,
): { variance: number; lagM: number } {
  let sum = 0;
  let ways = 0;
  let count = 0;
  for (const { xM, zM } of series)
    for (let i = 0; i + 3 * k < zM.length; i += 1) {
      const d = zM[i]! - 3 * zM[i + k]! + 3 * zM[i + 2 * k]! - zM[i + 3 * k]!;
      const way = xM[i + 3 * k]! - xM[i]!;
      if (!(Math.abs(d) < JUMP_M && way <= k * slowM)) continue;
      sum += (d * d) / 20;
      ways += (way / 3) ** 2;
      count += 1;
    }
  return count === 0 ? { variance: 0, lagM: 0 } : { variance: sum / count, lagM: Math.sqrt(ways / count) };
}
