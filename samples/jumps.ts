/** Landings as a recorder with an accelerometer feels them: on the way down, oftener where the ground is rough. */
import type { Ridden } from './ridden.js';
import { seeded } from './seeded.js';
import type { Course, GroundClass } from './terrain.js';

/** Units: milliseconds since 1970 UTC, seconds in the air, m/s. */
export interface Jump {
  readonly atMs: number;
  readonly hangS: number;
  readonly speedMps: number;
}

/** Seconds of riding down between two jumps: invented, near what recorders wrote on days like these. */
const EVERY_S: Readonly<Record<GroundClass, number>> = {
  road: Number.POSITIVE_INFINITY,
  gravel: Number.POSITIVE_INFINITY,
  trail: 300,
  rough: 40,
};
/** Units: seconds in the air. */
const HANG = { middle: 0.45, spread: 0.11, shortest: 0.2, longest: 0.8 };

/** Returns the jumps of a ride over its course; the same seed always gives the same jumps. */
export const jumpsOf = (ridden: Ridden, course: Course, seed: string): Jump[] => {
  const chance = seeded(`jumps ${seed}`);
  const nodeM = course.xM[1]!;
  return ridden.timeMs.flatMap((atMs, i) => {
    const node = Math.min(Math.floor(ridden.distM[i]! / nodeM), course.leg.length - 1);
    const { ground, climbM, by } = course.legs[course.leg[node]!]!;
    const speedMps = ridden.speedMps[i]!;
    if (i === 0 || by !== 'riding' || climbM >= 0 || speedMps === 0) return [];
    if (chance.between(0, 1) >= (atMs - ridden.timeMs[i - 1]!) / 1000 / EVERY_S[ground]) return [];
    const drawn = HANG.middle + HANG.spread * chance.normal();
    const hangS = Math.min(HANG.longest, Math.max(HANG.shortest, Math.round(100 * drawn) / 100));
    return [{ atMs, hangS, speedMps }];
  });
};

/** Units: seconds. */
export const hangOf = (jumps: readonly Jump[]): number => jumps.reduce((sum, { hangS }) => sum + hangS, 0);
