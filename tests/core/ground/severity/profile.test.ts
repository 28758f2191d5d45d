import { describe, expect, it } from 'vitest';
import type { GroundPath } from '../../../../src/core/ground/severity/ground.js';
import { profileOf } from '../../../../src/core/ground/severity/profile.js';

const path = (lengthM: number, eleM: (x: number) => number): GroundPath => {
  const xM = Float64Array.from({ length: lengthM / 5 + 1 }, (_, i) => i * 5);
  const readM = xM.map(eleM);
  const none = xM.map(() => Number.NaN);
  return { path: { xM, zM: readM, tS: xM.map((x) => x / 5), lat: none, lon: none, speedMps: none }, readM };
};

describe('the profile', () => {
  it('has at most 600 points, evenly from start to end', () => {
    const points = profileOf([path(20_000, (x) => x / 100)], []);
    expect(points).toHaveLength(600);
    expect(points[0]!.distanceM).toBe(0);
    expect(points.at(-1)).toEqual({ distanceM: 20_000, elevationM: 200, severity: null });
  });

  it('puts paths one after the other, each with its own elevation and severity', () => {
    const cells = [
      { path: 0, fromM: 0, toM: 400, movingS: 80, severity: 0.5 },
      { path: 1, fromM: 0, toM: 200, movingS: 40, severity: 1.5 },
      { path: 1, fromM: 200, toM: 400, movingS: 40, severity: 2.5 },
    ];
    const points = profileOf([path(400, () => 100), path(400, () => 300)], cells);
    const near = (metres: number) => points.find(({ distanceM }) => distanceM >= metres)!;
    expect(near(100)).toMatchObject({ elevationM: 100, severity: 0.5 });
    expect(near(500)).toMatchObject({ elevationM: 300, severity: 1.5 });
    expect(near(700)).toMatchObject({ elevationM: 300, severity: 2.5 });
  });

  it('says nothing where nothing is known', () => {
    const points = profileOf([path(100, () => Number.NaN)], []);
    expect(points.every(({ elevationM, severity }) => elevationM === null && severity === null)).toBe(true);
    expect(profileOf([], [])).toEqual([]);
  });

  it('keeps no positions', () => {
    const [point] = profileOf([path(100, () => 1)], []);
    expect(Object.keys(point!).sort()).toEqual(['distanceM', 'elevationM', 'severity']);
  });
});
