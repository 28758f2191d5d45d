import { describe, expect, it } from 'vitest';
import type { RideWeek } from '../../../src/core/forecast/rideWeeks.js';
import { HABITS } from '../../../src/core/forecast/ridingHabits.js';
import { ridingLaw } from '../../../src/core/forecast/ridingLaw.js';
import type { RiderWeeks } from '../../../src/core/forecast/usualYear.js';

const week = (hours: number): RideWeek => {
  const dayMovingS = [0, 0, 0, 0, 0, hours * 3600, 0];
  const dayTerrainMs = dayMovingS.map((s) => s * 1200);
  return { movingS: hours * 3600, terrainMs: hours * 3600 * 1200, dayMovingS, dayTerrainMs };
};

/** Latest first. */
const weeks = (count: number, isRidden: (ago: number) => boolean): RideWeek[] =>
  Array.from({ length: count }, (_, ago) => week(isRidden(ago) ? 3 : 0));

const PATHS = 400;

/** Ends in the middle of June where no season is known. */
const JUNE = { lastDay: 20_254, hemisphere: 0 } as const;
const lawOf = (weeks: readonly RideWeek[], at: Omit<RiderWeeks, 'weeks'> = JUNE) =>
  ridingLaw({ weeks, ...at }, 'seed');

/** Share of paths that ride in a week ahead. */
const shareRiding = (
  past: readonly RideWeek[],
  from: number,
  to: number,
  at: Omit<RiderWeeks, 'weeks'> = JUNE,
): number => {
  const law = lawOf(past, at);
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
    const past = weeks(50, (ago) => ago >= 12);
    const stopped = shareRiding(past, 0, 2);
    expect(everyWeek).toBeGreaterThan(0.8);
    expect(stopped).toBeLessThan(everyWeek / 2);
    // Source: 27 real riders' logs; after twelve empty weeks, mostly of a winter, those who had ridden in most weeks
    // before rode in 13 to 21 % of the next.
    const january = { lastDay: 20_118, hemisphere: 1 } as const;
    const inMostWeeks = weeks(50, (ago) => ago >= 12 && ago % 5 < 3);
    expect(shareRiding(inMostWeeks, 0, 2, january)).toBeLessThan(0.3);
  });

  it("follows last year's season", () => {
    const summers = (ago: number): boolean => ago % 52 >= 26;
    const past = weeks(104, summers);
    expect(shareRiding(past, 8, 18)).toBeGreaterThan(shareRiding(past, 34, 44) + 0.1);
  });

  it("draws a rider's own ride weeks where they are known and others' where not", () => {
    const hoursDrawn = (past: readonly RideWeek[]): number[] => {
      const law = lawOf(past);
      return Array.from({ length: PATHS }, (_, i) => law.begin(i, PATHS)).flatMap((path) =>
        Array.from({ length: 4 }, (_, ahead) => path.next(ahead)?.movingS ?? 0).filter((s) => s > 0),
      );
    };
    const ownShare = (past: readonly RideWeek[]): number => {
      const drawn = hoursDrawn(past);
      return drawn.filter((s) => s === 3 * 3600).length / drawn.length;
    };
    const worth = HABITS.weekHoursWorth;
    expect(ownShare(weeks(50, () => true))).toBeCloseTo(50 / (50 + worth), 1);
    expect(ownShare(weeks(3, () => true))).toBeCloseTo(3 / (3 + worth), 1);
    expect(ownShare([])).toBe(0);
  });

  it("keeps the rider's ground in weeks that are other riders'", () => {
    const law = lawOf([week(3)]);
    for (let i = 0; i < PATHS; i++) {
      const next = law.begin(i, PATHS).next(0);
      if (next !== null) expect(next.terrainMs / next.movingS).toBeCloseTo(1200, 6);
    }
  });

  it('spreads shares of ride weeks over the paths, wider for a newcomer', () => {
    const sharesOf = (past: readonly RideWeek[]): number[] => {
      const law = lawOf(past);
      return Array.from({ length: PATHS }, (_, i) => {
        const path = law.begin(i, PATHS);
        const weeksAhead = Array.from({ length: 26 }, (_week, ahead) => path.next(ahead));
        return weeksAhead.filter((one) => one !== null).length / 26;
      }).sort((a, b) => a - b);
    };
    const spread = (past: readonly RideWeek[]): number => {
      const shares = sharesOf(past);
      return shares[(9 * PATHS) / 10]! - shares[PATHS / 10]!;
    };
    const everyOther = (ago: number): boolean => ago % 2 === 0;
    expect(spread(weeks(4, everyOther))).toBeGreaterThan(spread(weeks(150, everyOther)));
  });

  it('is narrow for a rider who rides every week and rare for one who hardly does', () => {
    const steady = shareRiding(
      weeks(150, () => true),
      0,
      12,
    );
    const rare = shareRiding(
      weeks(150, (ago) => ago % 8 === 3),
      0,
      12,
    );
    expect(steady).toBeGreaterThan(0.9);
    expect(rare).toBeLessThan(0.3);
    expect(rare).toBeGreaterThan(0.08);
  });

  it('fades what sets a rider apart in the far future', () => {
    const past = weeks(150, () => true);
    expect(shareRiding(past, 200, 250)).toBeLessThan(shareRiding(past, 0, 50) - 0.1);
  });
});
