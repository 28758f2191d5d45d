import { describe, expect, it } from 'vitest';
import { hopM, metresPerDegree, planeOf, shortWay } from '../../../../src/core/ground/samples/ellipsoid.js';

describe('positions on the ellipsoid', () => {
  it('takes the short way over the date line', () => {
    expect(shortWay(359)).toBe(-1);
    expect(shortWay(-359)).toBe(1);
    expect(hopM(10, 179.9995, 10, -179.9995)).toBeCloseTo(hopM(10, 0, 10, 0.001), 6);
  });

  it('knows nothing where a position is missing', () => {
    expect(hopM(Number.NaN, 0, 0, 0)).toBeNaN();
  });

  it('lays positions on a plane about the first valid one', () => {
    const lat = Float64Array.of(Number.NaN, 45, 45.001, 45);
    const lon = Float64Array.of(Number.NaN, 7, 7, 7.001);
    const { eastM, northM } = planeOf(lat, lon);
    expect(eastM[0]).toBeNaN();
    expect([eastM[1], northM[1]]).toEqual([0, 0]);
    expect(northM[2]).toBeCloseTo(metresPerDegree(45).north / 1000, 6);
    expect(eastM[3]).toBeCloseTo(metresPerDegree(45).east / 1000, 6);
  });
});
