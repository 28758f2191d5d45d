import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../src/core/chance/seededRandom.js';
import { heightsAgain } from '../../../../src/core/ground/severity/heightsAgain.js';
import type { MovingPath } from '../../../../src/core/ground/severity/movingPath.js';
import { gaussian } from '../../../bench/evidence/iso8608.js';
import { madePath, waves } from './madeGround.js';

const OUT_M = 3000;
/** Out and back on one straight way. */
const away = (x: number): number => (x < OUT_M ? x : 2 * OUT_M - x);
const outAndBack = (height: (x: number, t: number) => number): MovingPath =>
  madePath({ lengthM: 2 * OUT_M, speedMps: 5, height, way: (x) => [away(x), 0] });
/** Laps of 1 km. */
const laps = (height: (x: number, t: number) => number): MovingPath => {
  const radius = 1000 / (2 * Math.PI);
  return madePath({
    lengthM: 4000,
    speedMps: 5,
    height,
    way: (x) => [radius * Math.sin(x / radius), radius * Math.cos(x / radius)],
  });
};
const slowNoise = (seed: string) => {
  const next = gaussian(seededRandom(seed));
  let error = 0;
  return () => {
    error = 0.95 * error + 0.6 * next();
    return error;
  };
};

describe('heights where the way was ridden again', () => {
  it('are unknown of a way that was ridden once, or without positions', () => {
    expect(heightsAgain([])).toBeNull();
    expect(heightsAgain([madePath({ lengthM: 9000, height: waves(4), way: (x) => [x, 0] })])).toBeNull();
    expect(heightsAgain([madePath({ lengthM: 9000, height: waves(4) })])).toBeNull();
  });

  it('come again with place: back the same way, and lap after lap', () => {
    const back = heightsAgain([outAndBack((x) => waves(4)(away(x)))])!;
    expect(back.wayM).toBeGreaterThan(2000);
    expect(back.errorShare).toBeLessThan(0.02);
    expect(back.delayS).toBe(0);
    expect(heightsAgain([laps((x) => waves(4)(x % 1000))])!.errorShare).toBeLessThan(0.05);
  });

  it('show how late the recorder writes them', () => {
    const late = outAndBack((x) => waves(4)(away(Math.max(0, x - 5 * 6))));
    expect(heightsAgain([late])).toMatchObject({ delayS: 6 });
    expect(heightsAgain([late])!.errorShare).toBeLessThan(0.02);
  });

  it('do not come again where they are error: all of it on level ground, part of it on waves', () => {
    const level = slowNoise('level');
    expect(heightsAgain([outAndBack(() => level())])!.errorShare).toBeGreaterThan(0.7);
    const some = slowNoise('waves');
    const { errorShare } = heightsAgain([outAndBack((x) => waves(2)(away(x)) + some())])!;
    expect(errorShare).toBeGreaterThan(0.15);
    expect(errorShare).toBeLessThan(0.85);
  });

  it('are compared over a stop of the recorder too, and in bounded time by whoever turns in one place', () => {
    const whole = outAndBack((x) => waves(4)(away(x)));
    const half = whole.xM.length >> 1;
    const part = (from: number, to: number): MovingPath => ({
      xM: whole.xM.slice(from, to).map((x) => x - whole.xM[from]!),
      zM: whole.zM.slice(from, to),
      tS: whole.tS.slice(from, to).map((t) => t - whole.tS[from]!),
      lat: whole.lat.slice(from, to),
      lon: whole.lon.slice(from, to),
      speedMps: whole.speedMps.slice(from, to),
    });
    expect(heightsAgain([part(0, half), part(half, whole.xM.length)])!.errorShare).toBeLessThan(0.02);
    const turning = madePath({
      lengthM: 200_000,
      speedMps: 10,
      height: waves(1),
      way: (x) => [3 * Math.sin(x / 3), 3 * Math.cos(x / 3)],
    });
    const from = performance.now();
    heightsAgain([turning]);
    expect(performance.now() - from).toBeLessThan(5000);
  });
});
