import { describe, expect, it } from 'vitest';
import { type Random, seededRandom } from '../../src/core/chance/seededRandom.js';
import { dayOfNumber } from '../../src/core/days/dayNumber.js';
import type { RideWeek } from '../../src/core/forecast/rideWeeks.js';
import { drawPaths, type RidingLaw } from '../../src/core/forecast/ridingPaths.js';
import { HOUR_MS } from '../../src/units.js';
import { croston, syntetosBoylan, teunterSyntetosBabai } from '../bench/evidence/intermittentDemand.js';
import { meanFigure, medianFigure } from '../bench/evidence/ridersAnew.js';
import { kupiec, pinball, sampleCrps, winkler } from '../bench/evidence/scoringRules.js';
import { seasonOf } from '../bench/evidence/seasonOf.js';

const exponential = (random: Random, mean: number): number => -mean * Math.log(1 - random());

const weekOf = (dayHours: readonly number[]): RideWeek => {
  const dayMovingS = dayHours.map((hours) => hours * 3600);
  const movingS = dayMovingS.reduce((sum, s) => sum + s, 0);
  return { movingS, terrainMs: movingS * 1000, dayMovingS, dayTerrainMs: dayMovingS.map((s) => s * 1000) };
};

const PATHS = 40_000;

/** Weeks until the limit, in each of many independent futures under a law whose answer is known. */
const weeksUntil = (hours: number, nextWeek: (random: Random) => RideWeek): Float64Array => {
  const random = seededRandom('a rider with a known law');
  const law: RidingLaw = {
    season: Float64Array.of(1),
    begin: () => ({ scale: 1, next: () => nextWeek(random) }),
  };
  return drawPaths(law, PATHS, 400)
    .firstPassages({ movingS: hours * 3600, terrainMs: null })
    .map((days) => days / 7);
};

const shareWithin = (weeks: Float64Array, limit: number): number =>
  weeks.filter((w) => w <= limit + 1e-9).length / weeks.length;

const meanOf = (weeks: Float64Array): number => weeks.reduce((sum, w) => sum + w, 0) / weeks.length;

/** Four standard errors of a share of so many paths, at its widest. */
const TOLERANCE = (4 * 0.5) / Math.sqrt(PATHS);

describe('first passage under a known law', () => {
  // Source: computed from P(T ≤ n) = P(S_n ≥ R), sums of gamma variables being gamma.
  describe('weeks of Gamma(2, 2) hours, 20 hours to go', () => {
    const weeks = weeksUntil(20, (random) =>
      weekOf([0, 0, 0, 0, 0, 0, exponential(random, 2) + exponential(random, 2)]),
    );

    it.each([
      [3, 0.0671],
      [4, 0.2202],
      [5, 0.4579],
      [6, 0.6968],
      [7, 0.8645],
      [8, 0.9513],
    ])('is reached within %i weeks with likelihood %f', (limit, likelihood) => {
      expect(Math.abs(shareWithin(weeks, limit) - likelihood)).toBeLessThan(TOLERANCE);
    });

    it('has its 10, 50 and 90 % weeks at 4, 6 and 8', () => {
      expect([0.1, 0.5, 0.9].map((p) => weeks[Math.ceil(p * PATHS) - 1])).toEqual([4, 6, 8]);
    });

    it('takes 5.75 weeks in the mean, not the 5 of hours over rate', () => {
      // Source: renewal theorem, R/μ + (σ² + μ²)/(2 μ²).
      expect(meanOf(weeks)).toBeCloseTo(5.75, 1);
    });
  });

  // Source: computed; a compound Poisson process with exponential rides.
  describe('1.5 rides a week of 2 hours in the mean, exponential, 20 hours to go', () => {
    const dayHours = (random: Random): number => {
      let hours = 0;
      for (let at = exponential(random, 7 / 1.5); at < 1; at += exponential(random, 7 / 1.5)) {
        hours += exponential(random, 2);
      }
      return hours;
    };
    const weeks = weeksUntil(20, (random) => weekOf(Array.from({ length: 7 }, () => dayHours(random))));

    it.each([
      [4, 0.1279],
      [6, 0.3649],
      [7, 0.4996],
      [8, 0.6252],
      [10, 0.8169],
      [12, 0.9238],
    ])('is reached within %i weeks with likelihood %f', (limit, likelihood) => {
      expect(Math.abs(shareWithin(weeks, limit) - likelihood)).toBeLessThan(TOLERANCE);
    });

    it('takes (R/m + 1)/λ = 7.3333 weeks in the mean', () => {
      // Days are counted whole, half a day late in the mean.
      expect(meanOf(weeks) - 0.5 / 7).toBeCloseTo(22 / 3, 1);
    });
  });
});

describe('forecasts of intermittent demand', () => {
  // Source: series of Forecasting: Principles and Practice, 2nd edition, 12.2; figures computed by Croston's formula.
  const textbook = [
    0, 2, 0, 1, 0, 11, 0, 0, 0, 0, 2, 0, 6, 3, 0, 0, 0, 0, 0, 7, 0, 0, 0, 0, 0, 0, 0, 3, 1, 0, 0, 1, 0, 1, 0,
    0,
  ];
  const hours = [4, 0, 3, 5, 0, 0, 6, 2];

  it('are Croston’s', () => {
    const { size, gap, perPeriod } = croston(textbook, 0.1);
    expect(size).toBeCloseTo(2.7502538401, 9);
    expect(gap).toBeCloseTo(2.79328007, 8);
    expect(perPeriod).toBeCloseTo(0.9845965214, 9);
    expect(croston(hours, 0.2).size).toBeCloseTo(3.9456, 4);
    expect(croston(hours, 0.2).gap).toBeCloseTo(1.4224, 4);
    expect(croston(hours, 0.2).perPeriod).toBeCloseTo(2.773903, 6);
    expect(croston([0, 0, 10, 0, 0, 20, 0, 0, 0, 15], 0.1).perPeriod).toBeCloseTo(11.4 / 3.1, 3);
  });

  it('are Syntetos and Boylan’s', () => {
    expect(syntetosBoylan(textbook, 0.1)).toBeCloseTo(0.9353666953, 9);
    expect(syntetosBoylan(hours, 0.2)).toBeCloseTo(2.496513, 6);
  });

  it('are Teunter, Syntetos and Babai’s', () => {
    // Source: computed by the published formula.
    const given = { alpha: 0.2, beta: 0.1, size: 4, chance: 0.5 };
    expect(teunterSyntetosBabai(hours, given)).toBeCloseTo(2.279461, 6);
  });
});

describe('figures of riders', () => {
  const of = (rider: string, ...values: readonly number[]) => values.map((value) => ({ rider, value }));

  it('weigh every rider the same, however many values there are of each', () => {
    const all = [...of('a', 1), ...of('b', 3, 5, 5), ...of('c', 8, 8, 8, 8)];
    expect(meanFigure(all).value).toBeCloseTo((1 + 13 / 3 + 8) / 3, 12);
    expect(medianFigure(all).value).toBe(5);
    expect(meanFigure(all).riders).toBe(3);
  });

  it('have the interval of means of riders drawn anew', () => {
    // Source: computed; the mean of 25 draws from 0 and 1, each a half, has a standard deviation of 0.1.
    const riders = Array.from({ length: 25 }, (_, i) => of(`r${i}`, i % 2)).flat();
    const { value, low, high } = meanFigure(riders);
    expect(value).toBeCloseTo(12 / 25, 12);
    expect(value - low).toBeGreaterThan(0.15);
    expect(value - low).toBeLessThan(0.25);
    expect(high - value).toBeGreaterThan(0.15);
    expect(high - value).toBeLessThan(0.25);
    expect(meanFigure(of('a', 1, 2, 3))).toMatchObject({ low: 2, high: 2 });
  });

  it('find the height and the week of a season that is known', () => {
    const first = 19_000;
    const rides = Array.from({ length: 520 }, (_, week) => {
      const at = first + 7 * week;
      const hours = 3 * (1 + 0.3 * Math.cos(2 * Math.PI * ((at + 3) / 365.2425 - 30 / 52)));
      return { at, day: dayOfNumber(at), movingS: hours * 3600, terrainMs: hours * HOUR_MS };
    });
    const found = seasonOf([{ rider: 'a', rides, first, last: rides.at(-1)!.at }]);
    expect(found.seasonHours).toBeCloseTo(0.3, 2);
    expect(found.seasonPeak).toBeCloseTo(30, 1);
  });
});

describe('scores of forecasts', () => {
  it('pinball', () => {
    // Source: computed by the published formula, (1−p)(q−y) below and p(y−q) above.
    expect(pinball(0.1, 24, 30)).toBeCloseTo(0.6, 12);
    expect([0.5, 0.9].map((p) => pinball(p, 24, 30))).toEqual([3, 5.4]);
    expect([0.1, 0.5].map((p) => pinball(p, 24, 20))).toEqual([3.6, 2]);
    expect(pinball(0.9, 24, 20)).toBeCloseTo(0.4, 12);
  });

  it('CRPS of a sample', () => {
    // Source: computed by the published formula, E|X−y| − E|X−X′|/2.
    expect(sampleCrps([10, 20, 30], 25)).toBeCloseTo(3.888889, 6);
    expect(sampleCrps([10, 20, 30], 25, true)).toBeCloseTo(1.666667, 6);
    expect(sampleCrps([1, 2, 3, 4], 2.5)).toBeCloseTo(0.375, 12);
  });

  it('mean of twice the pinball loss over quantiles nears the CRPS', () => {
    const members = Array.from({ length: 999 }, (_, i) => (i + 1) / 10);
    const losses = Array.from({ length: 99 }, (_, i) => 2 * pinball((i + 1) / 100, i + 1, 70));
    expect(losses.reduce((sum, loss) => sum + loss, 0) / 99).toBeCloseTo(sampleCrps(members, 70), 0);
  });

  it('Winkler', () => {
    // From memory, and computed: width 20, and 2/0.2 for each of 5 days outside.
    expect(winkler(20, 40, 0.2, 45)).toBeCloseTo(70, 12);
    expect(winkler(20, 40, 0.2, 15)).toBeCloseTo(70, 12);
    expect(winkler(20, 40, 0.2, 30)).toBe(20);
  });

  // From memory, and computed by the likelihood ratio.
  it.each([
    [80, 0],
    [72, 3.671],
    [70, 5.634],
    [88, 4.515],
  ])('Kupiec of %i in 100 at 80 %%', (hits, ratio) => {
    expect(kupiec(hits, 100, 0.8)).toBeCloseTo(ratio, 3);
  });
});
