import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  hopM,
  metresPerDegree,
  planeOf,
  shortWay,
  straightM,
} from '../../../../src/core/ground/samples/ellipsoid.js';

test('a straight way is as long as the two roots of squares say', () => {
  const metres = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  fc.assert(
    fc.property(metres, metres, (east, north) => {
      const other = Math.hypot(east, north);
      expect(Math.abs(straightM(east, north) - other)).toBeLessThanOrEqual(other * Number.EPSILON);
    }),
  );
  expect([straightM(3, -4), straightM(0, 0)]).toEqual([5, 0]);
  expect([straightM(Number.NaN, 1), straightM(1, Number.NaN)]).toEqual([Number.NaN, Number.NaN]);
});

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
