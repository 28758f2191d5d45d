/** Where a chance that rises with hours is reached, from yes and no at known hours. */
import { expect, it } from 'vitest';
import { hoursAtChance, RISE_CURVES } from '../../../src/core/chance/riseFit.js';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';

/** A law whose shares are known: log-logistic about 55 h, or Weibull of scale 60 h, both steep. */
const LAWS = {
  even: { darkAt: (u: number) => 55 * (u / (1 - u)) ** (1 / 5), tenth: 55 * (1 / 9) ** (1 / 5) },
  early: {
    darkAt: (u: number) => 60 * (-Math.log(1 - u)) ** (1 / 3),
    tenth: 60 * (-Math.log(0.9)) ** (1 / 3),
  },
} as const;

it.each(RISE_CURVES)('finds a tenth and a half of its own law: %s', (curve) => {
  const random = seededRandom(`law ${curve}`);
  const law = LAWS[curve];
  const seen = Array.from({ length: 6000 }, () => {
    const hours = 5 + 100 * random();
    return { hours, isHit: hours >= law.darkAt(random()) };
  });
  expect(hoursAtChance(seen, 0.1, curve)).toBeGreaterThan(law.tenth - 2);
  expect(hoursAtChance(seen, 0.1, curve)).toBeLessThan(law.tenth + 2);
  expect(Math.abs(hoursAtChance(seen, 0.5, curve) - law.darkAt(0.5))).toBeLessThan(2);
});

it('ends where all are told apart by their hours, and where nothing tells them apart', () => {
  const apart = Array.from({ length: 40 }, (_, i) => ({ hours: 10 + i, isHit: i >= 20 }));
  for (const curve of RISE_CURVES) {
    const at = hoursAtChance(apart, 0.1, curve);
    expect(at).toBeGreaterThan(5);
    expect(at).toBeLessThan(30);
  }
  const falling = Array.from({ length: 400 }, (_, i) => ({ hours: 10 + i, isHit: i < 200 }));
  for (const curve of RISE_CURVES) expect(hoursAtChance(falling, 0.1, curve)).toBe(Number.POSITIVE_INFINITY);
});
