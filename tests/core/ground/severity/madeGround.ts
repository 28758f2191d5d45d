import type { MovingPath } from '../../../../src/core/ground/severity/movingPath.js';

export interface Made {
  readonly lengthM: number;
  readonly speedMps?: number;
  /** Seconds between nodes. */
  readonly everyS?: number;
  /** Height over distance and time. */
  readonly height: (xM: number, tS: number) => number;
  /** North and east of the start over distance. Units: metres. */
  readonly way?: (xM: number) => readonly [north: number, east: number];
  readonly deviceSpeed?: (tS: number) => number;
}

/** Returns a path ridden at even speed over made ground near the equator. */
export function madePath({ lengthM, speedMps = 4, everyS = 1, height, way, deviceSpeed }: Made): MovingPath {
  const count = Math.floor(lengthM / (speedMps * everyS)) + 1;
  const column = (value: (xM: number, tS: number) => number): Float64Array =>
    Float64Array.from({ length: count }, (_, i) => value(i * everyS * speedMps, i * everyS));
  const degrees = (metres: number): number => metres / 111_195;
  return {
    xM: column((x) => x),
    zM: column(height),
    tS: column((_, t) => t),
    lat: column((x) => (way ? degrees(way(x)[0]) : Number.NaN)),
    lon: column((x) => (way ? degrees(way(x)[1]) : Number.NaN)),
    speedMps: column((_, t) => (deviceSpeed ? deviceSpeed(t) : Number.NaN)),
  };
}

/** Waves of 300 and 470 m: gradient changes at every lag, nothing is random. */
export const waves =
  (heightM: number) =>
  (xM: number): number =>
    heightM * (Math.sin((2 * Math.PI * xM) / 300) + Math.sin((2 * Math.PI * xM) / 470));
