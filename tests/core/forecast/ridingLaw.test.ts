import { describe, expect, it } from 'vitest';
import type { RideWeek } from '../../../src/core/forecast/rideWeeks.js';
import { ridingLaw } from '../../../src/core/forecast/ridingLaw.js';

const week = (hours: number): RideWeek => {
  const dayMovingS = [0, 0, 0, 0, 0, hours * 3600, 0];
  const dayTerrainMs = dayMovingS.map((s) => s * 1200);
  return { movingS: hours * 3600, terrainMs: hours * 3600 * 1200, dayMovingS, dayTerrainMs };
};

/** Latest first. */
const weeks = (count: number, isRidden: (ago: number) => boolean): RideWeek[] =>
  Array.from({ length: count }, (_, ago) => week(isRidden(ago) ? 3 : 0));

const PATHS = 400;

/** Share of paths that ride in a week ahead. */
const shareRiding = (past: readonly RideWeek[], from: number, to: number): number => {
  const law = ridingLaw(past, 'seed');
  let ridden = 0;
  for (let i = 0; i < PATHS; i++) {
    const path = law.begin(i, PATHS);
    for (let ahead = 0; ahead < to; ahead++) {
      const isRidden = path.next(ahead) !== null;
      if (isRidden && ahead >= from) ridden += 1;
    }
  }
  return ridden / PATHS / (to - from);
};

describe('how a rider may go on', () => {
  it('gives rest weeks after rest weeks and ride weeks after ride weeks', () => {
    const everyWeek = shareRiding(
      weeks(50, () => true),
      0,
      2,
    );
    const stopped = shareRiding(
      weeks(50, (ago) => ago >= 12),
      0,
      2,
    );
    expect(everyWeek).toBeGreaterThan(0.8);
    expect(stopped).toBeLessThan(0.3);
  });

  it("follows last year's season", () => {
    const summers = (ago: number): boolean => ago % 52 >= 26;
    const past = weeks(104, summers);
    expect(shareRiding(past, 8, 18)).toBeGreaterThan(shareRiding(past, 34, 44) + 0.1);
  });

  it("draws a rider's own ride weeks where they are known and others' where not", () => {
    const hoursDrawn = (past: readonly RideWeek[]): number[] => {
      const law = ridingLaw(past, 'seed');
      return Array.from({ length: PATHS }, (_, i) => law.begin(i, PATHS)).flatMap((path) =>
        Array.from({ length: 4 }, (_, ahead) => path.next(ahead)?.movingS ?? 0).filter((s) => s > 0),
      );
    };
    const ownShare = (past: readonly RideWeek[]): number => {
      const drawn = hoursDrawn(past);
      return drawn.filter((s) => s === 3 * 3600).length / drawn.length;
    };
    expect(ownShare(weeks(50, () => true))).toBeGreaterThan(0.9);
    expect(ownShare(weeks(3, () => true))).toBeCloseTo(0.5, 0);
    expect(ownShare([])).toBe(0);
  });

  it("keeps the rider's ground in weeks that are other riders'", () => {
    const law = ridingLaw([week(3)], 'seed');
    for (let i = 0; i < PATHS; i++) {
      const next = law.begin(i, PATHS).next(0);
      if (next !== null) expect(next.terrainMs / next.movingS).toBeCloseTo(1200, 6);
    }
  });

  it('spreads levels evenly, further down than up, and wider for a newcomer', () => {
    const levels = (past: readonly RideWeek[]): number[] => {
      const law = ridingLaw(past, 'seed');
      return Array.from({ length: PATHS }, (_, i) => law.begin(i, PATHS).scale).sort((a, b) => a - b);
    };
    const known = levels(weeks(80, () => true));
    expect(known[PATHS / 2]).toBeCloseTo(1, 1);
    expect(1 / known[PATHS / 10]!).toBeGreaterThan(known[(9 * PATHS) / 10]!);
    expect(levels(weeks(2, () => true))[PATHS / 10]).toBeLessThan(known[PATHS / 10]!);
  });
});
