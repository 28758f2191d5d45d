import { type Random, seededRandom } from '../../../src/core/chance/seededRandom.js';
import type { MovingPath } from '../../../src/core/ground/severity/movingPath.js';

/** Reference spatial frequency. Units: cycles per metre. Source: ISO 8608. */
export const N0 = 0.1;
/** Bounds between the classes A to H. Units: m³. Source: ISO 8608. */
export const CLASS_BOUNDS = [32, 128, 512, 2048, 8192, 32_768, 131_072].map((bound) => bound * 1e-6);
export const CLASS_NAMES = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'] as const;

/** Geometric mean of Gd(n0) by class: the bounds lie a factor of four apart, so the mean is twice the lower one. */
export const CLASS_MEANS = CLASS_NAMES.map((_, i) =>
  i === 0 ? CLASS_BOUNDS[0]! / 2 : 2 * CLASS_BOUNDS[i - 1]!,
);

/** Spectrum of vertical road velocity, the same at every frequency. Units: (m/s)²/Hz. */
export const velocitySpectrum = (gd: number, speedMps: number): number =>
  (2 * Math.PI * N0) ** 2 * gd * speedMps;

export const gaussian = (random: Random): (() => number) => {
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
};

/** Returns heights every `stepM` of ground with the spectrum Gd(n) = Gd(n0)·(n/n0)⁻²: its slope is white. */
export function isoProfile(gd: number, lengthM: number, stepM: number, seed: string): Float64Array {
  const next = gaussian(seededRandom(seed));
  const spread = Math.sqrt(((2 * Math.PI * N0) ** 2 * gd * stepM) / 2);
  const z = new Float64Array(Math.floor(lengthM / stepM) + 1);
  for (let i = 1; i < z.length; i += 1) z[i] = z[i - 1]! + spread * next();
  return z;
}

/** Root mean squares of a single mass on a spring and damper over white road velocity, by summing its spectrum. */
export function singleMass(
  gd: number,
  speedMps: number,
  { naturalHz, damping, bandHz }: { naturalHz: number; damping: number; bandHz: number },
): { travelM: number; slidingMps: number } {
  const own = 2 * Math.PI * naturalHz;
  const step = 0.001;
  let travel = 0;
  let sliding = 0;
  for (let hz = step / 2; hz < bandHz; hz += step) {
    const w = 2 * Math.PI * hz;
    const gain = w ** 2 / ((own ** 2 - w ** 2) ** 2 + (2 * damping * own * w) ** 2);
    travel += gain * step;
    sliding += gain * w ** 2 * step;
  }
  const spectrum = velocitySpectrum(gd, speedMps);
  return { travelM: Math.sqrt(travel * spectrum), slidingMps: Math.sqrt(sliding * spectrum) };
}

/**
 * Returns the metres that a single mass on a spring and damper slides in an hour, by stepping it over a profile.
 * Frequencies up to half of v/stepM take part.
 */
export function slidingMetresPerHour(
  profile: Float64Array,
  stepM: number,
  speedMps: number,
  { naturalHz, damping }: { naturalHz: number; damping: number },
): number {
  const own = 2 * Math.PI * naturalHz;
  const parts = 8;
  const dt = stepM / speedMps;
  const h = dt / parts;
  let travel = 0;
  let body = 0;
  let slid = 0;
  for (let i = 1; i < profile.length; i += 1) {
    const road = (profile[i]! - profile[i - 1]!) / dt;
    for (let k = 0; k < parts; k += 1) {
      body -= h * (2 * damping * own * (body - road) + own ** 2 * travel);
      travel += h * (body - road);
      slid += h * Math.abs(body - road);
    }
  }
  return (slid / ((profile.length - 1) * dt)) * 3600;
}

/** What a recorder does to the height of the ground. Units: metres, seconds. */
export interface Recorder {
  readonly filterS: number;
  readonly stepM: number;
  readonly noiseM: number;
  readonly driftM: number;
  readonly driftS: number;
}

export const IDEAL: Recorder = { filterS: 0, stepM: 0, noiseM: 0, driftM: 0, driftS: 60 };
export const USUAL: Recorder = { filterS: 5, stepM: 0.2, noiseM: 0.05, driftM: 0.3, driftS: 120 };

/** Returns a ride at even speed over a profile, a node each second, as a recorder would have it. */
export function recordedPath(
  profile: Float64Array,
  stepM: number,
  speedMps: number,
  recorder: Recorder,
  seed: string,
): MovingPath {
  const next = gaussian(seededRandom(seed));
  const count = Math.floor(((profile.length - 1) * stepM) / speedMps);
  const column = (value: (i: number) => number): Float64Array =>
    Float64Array.from({ length: count }, (_, i) => value(i));
  const keep = recorder.filterS > 0 ? Math.exp(-1 / recorder.filterS) : 0;
  const stay = Math.exp(-1 / recorder.driftS);
  let height = profile[0]!;
  let drift = recorder.driftM * next();
  const zM = column((i) => {
    height = keep * height + (1 - keep) * profile[Math.round((i * speedMps) / stepM)]!;
    drift = stay * drift + recorder.driftM * Math.sqrt(1 - stay ** 2) * next();
    const z = height + drift + recorder.noiseM * next();
    return recorder.stepM > 0 ? Math.round(z / recorder.stepM) * recorder.stepM : z;
  });
  const nothing = column(() => Number.NaN);
  return {
    xM: column((i) => i * speedMps),
    zM,
    tS: column((i) => i),
    lat: nothing,
    lon: nothing,
    speedMps: column(() => speedMps),
  };
}

/** Returns long hills of the given steepest grade, to lie under a profile. */
export const hills = (lengthM: number, stepM: number, grade: number, wavelengthM = 1500): Float64Array => {
  const height = (grade * wavelengthM) / (2 * Math.PI);
  return Float64Array.from(
    { length: Math.floor(lengthM / stepM) + 1 },
    (_, i) => height * Math.sin((2 * Math.PI * i * stepM) / wavelengthM),
  );
};

/**
 * Returns the international roughness index of white road velocity by the quarter car it is defined with, at 80 km/h.
 * Units: m/km. Source: ASTM E1926's quarter car (63.3, 653, 6, 0.15), from memory.
 */
export function roughnessIndex(gd: number): number {
  const speed = 80 / 3.6;
  const [spring, tyre, damper, wheel] = [63.3, 653, 6, 0.15];
  const step = 0.005;
  let sum = 0;
  for (let hz = step / 2; hz < 100; hz += step) {
    const s = 2 * Math.PI * hz;
    // Body and wheel over road: two complex equations, solved by Cramer's rule with pairs [real, imaginary].
    const a: Complex = [spring - s ** 2, damper * s];
    const b: Complex = [-spring, -damper * s];
    const d: Complex = [spring + tyre - wheel * s ** 2, damper * s];
    const determinant = minus(times(a, d), times(b, b));
    const body = over(times([-tyre, 0], b), determinant);
    const under = over(times([tyre, 0], a), determinant);
    const slide = minus(body, under);
    // The index smooths the profile over 250 mm first.
    const n = hz / speed;
    const smooth = Math.sin(Math.PI * n * 0.25) / (Math.PI * n * 0.25);
    sum += (slide[0] ** 2 + slide[1] ** 2) * smooth ** 2 * step;
  }
  const sliding = Math.sqrt(sum * velocitySpectrum(gd, speed));
  return (1000 * sliding * Math.sqrt(2 / Math.PI)) / speed;
}

type Complex = readonly [number, number];
const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];
const minus = ([a, b]: Complex, [c, d]: Complex): Complex => [a - c, b - d];
const over = (a: Complex, [c, d]: Complex): Complex => {
  const [re, im] = times(a, [c, -d]);
  return [re / (c ** 2 + d ** 2), im / (c ** 2 + d ** 2)];
};
