/** Invented ground. It lies in open ocean, so that no place on it is real. */
import { type Chance, seeded } from './seeded.js';

export const GROUND_CLASSES = ['road', 'gravel', 'trail', 'rough'] as const;
export type GroundClass = (typeof GROUND_CLASSES)[number];

/** A part of a course. Units: metres. */
export interface Leg {
  readonly ground: GroundClass;
  readonly lengthM: number;
  readonly climbM: number;
  /** How the bike gets along: ridden, hung on a chairlift, driven up a road in a van, or on a train. */
  readonly by: 'riding' | 'lift' | 'van' | 'train';
  /** The way it points, in radians from north; without one the leg takes its share of a loop. */
  readonly bearing?: number;
}

/** A course as nodes, a column each. Units: xM, eastM, northM, eleM metres; leg is the index of the node's leg. */
export interface Course {
  readonly name: string;
  readonly legs: readonly Leg[];
  readonly lengthM: number;
  readonly xM: Float64Array;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  readonly eleM: Float64Array;
  readonly leg: Uint16Array;
}

const NODE_M = 4;
const BASE_ELEVATION_M = 240;

/**
 * What a class of ground does to a line: `gradientChange` is γ, the change of gradient that severity is read from, as
 * a pure number; `turnM` how far the line swings from side to side.
 */
const TEXTURE: Record<GroundClass, { gradientChange: number; turnM: number }> = {
  road: { gradientChange: 0.0055, turnM: 0.5 },
  gravel: { gradientChange: 0.0085, turnM: 1.2 },
  trail: { gradientChange: 0.0215, turnM: 4 },
  rough: { gradientChange: 0.0355, turnM: 4.2 },
};

interface Wave {
  readonly lengthM: number;
  readonly phase: number;
}

const wavesOf = (chance: Chance, count: number, shortM: number, longM: number): Wave[] =>
  Array.from({ length: count }, (_, i) => ({
    lengthM: shortM * (longM / shortM) ** ((i + chance.between(0.2, 0.8)) / count),
    phase: chance.between(0, 2 * Math.PI),
  }));

const swing = (waves: readonly Wave[], xM: number): number =>
  waves.reduce((sum, w) => sum + w.lengthM * Math.sin((2 * Math.PI * xM) / w.lengthM + w.phase), 0);

/**
 * Returns γ of waves whose height is their length: third differences over 20, mean square, over the lag squared.
 * Source: the mean of (z0 − 3z1 + 3z2 − z3)² of a sine is 64 sin⁶(πL/λ) times half its squared height.
 */
const gradientChangeOf = (waves: readonly Wave[]): number => {
  const lags = [60, 80, 120];
  const mean = lags.reduce((sum, lag) => {
    const square = waves.reduce(
      (s, w) => s + ((w.lengthM ** 2 / 2) * 64 * Math.sin((Math.PI * lag) / w.lengthM) ** 6) / 20,
      0,
    );
    return sum + square / lag ** 2 / lags.length;
  }, 0);
  return Math.sqrt(mean);
};

const easing = (share: number): number => (1 - Math.cos(Math.PI * share)) / 2;

/** Returns the course that a name and its legs always give. */
export const courseOf = (name: string, legs: readonly Leg[]): Course => {
  const chance = seeded(`course ${name}`);
  const heights = wavesOf(chance, 16, 55, 900);
  const heightScale = 1 / gradientChangeOf(heights);
  const sides = wavesOf(chance, 3, 55, 120);
  const bends = wavesOf(chance, 3, 400, 1600);
  const lengthM = legs.reduce((sum, leg) => sum + leg.lengthM, 0);
  const count = Math.floor(lengthM / NODE_M) + 1;
  const course: Course = {
    name,
    legs,
    lengthM: (count - 1) * NODE_M,
    xM: new Float64Array(count),
    eastM: new Float64Array(count),
    northM: new Float64Array(count),
    eleM: new Float64Array(count),
    leg: new Uint16Array(count),
  };
  let index = 0;
  let legStartM = 0;
  let legBaseM = BASE_ELEVATION_M;
  let gamma = TEXTURE[legs[0]!.ground].gradientChange;
  let turnM = TEXTURE[legs[0]!.ground].turnM;
  for (let i = 0; i < count; i += 1) {
    const xM = i * NODE_M;
    while (index + 1 < legs.length && xM >= legStartM + legs[index]!.lengthM) {
      legStartM += legs[index]!.lengthM;
      legBaseM += legs[index]!.climbM;
      index += 1;
    }
    const leg = legs[index]!;
    const ridden = leg.by === 'riding';
    // The texture swells over some 40 m, so that a change of ground is no step in the elevation.
    gamma += ((ridden ? TEXTURE[leg.ground].gradientChange : 0.001) - gamma) * 0.1;
    turnM += ((ridden ? TEXTURE[leg.ground].turnM : 0) - turnM) * 0.1;
    course.xM[i] = xM;
    course.leg[i] = index;
    course.eleM[i] =
      legBaseM +
      leg.climbM * (ridden ? easing((xM - legStartM) / leg.lengthM) : (xM - legStartM) / leg.lengthM) +
      gamma * heightScale * swing(heights, xM);
    if (i === 0) continue;
    const heading = headingAt(leg, xM, lengthM, turnM, sides, bends);
    course.eastM[i] = course.eastM[i - 1]! + NODE_M * Math.sin(heading);
    course.northM[i] = course.northM[i - 1]! + NODE_M * Math.cos(heading);
  }
  return course;
};

/** A way with a bearing winds down to its end, so that a run ends near the foot of its lift. */
const SWITCHBACK = { swingRad: 1.35, lengthM: 270 };

const headingAt = (
  leg: Leg,
  xM: number,
  lengthM: number,
  turnM: number,
  sides: readonly Wave[],
  bends: readonly Wave[],
): number => {
  if (leg.by === 'lift') return leg.bearing ?? 0;
  const base = leg.bearing ?? (2 * Math.PI * xM) / lengthM;
  const slow =
    leg.bearing === undefined
      ? bends.reduce((sum, w) => sum + 0.35 * Math.sin((2 * Math.PI * xM) / w.lengthM + w.phase), 0)
      : SWITCHBACK.swingRad * Math.sin((2 * Math.PI * xM) / SWITCHBACK.lengthM);
  // A side step of turnM over a wave turns the line by its slope.
  const quick = sides.reduce(
    (sum, w) =>
      sum + ((2 * Math.PI * turnM) / w.lengthM) * Math.sin((2 * Math.PI * xM) / w.lengthM + w.phase),
    0,
  );
  return base + slow + quick * 0.6;
};

const ORIGIN = { latDeg: 44, lonDeg: -38 };
const radians = (degrees: number): number => (degrees * Math.PI) / 180;
// Metres in a degree on the WGS-84 ellipsoid at the origin, by the usual series.
const LAT_M = 111132.95 - 559.85 * Math.cos(radians(2 * ORIGIN.latDeg));
const LON_M = 111412.88 * Math.cos(radians(ORIGIN.latDeg)) - 93.5 * Math.cos(radians(3 * ORIGIN.latDeg));

export const latOf = (northM: number): number => ORIGIN.latDeg + northM / LAT_M;
export const lonOf = (eastM: number): number => ORIGIN.lonDeg + eastM / LON_M;
