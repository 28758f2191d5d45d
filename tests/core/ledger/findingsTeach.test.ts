import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { darkSteps, type RingsSeen, teach } from '../../../src/core/ledger/findingsTeach.js';

/**
 * Invented: rings go dark after hours drawn from a law of known quantiles, and are seen at other hours. `follows` says
 * which of the two hours the rings really follow.
 */
function invented(count: number, seed: string, follows: 'terrain' | 'moving' | 'both'): RingsSeen[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, (_, i) => {
    const terrainHours = 5 + 90 * random();
    const movingHours = follows === 'both' ? terrainHours : 5 + 90 * random();
    // Weibull with shape 3 and scale 60: 20 % by 60 × (−ln 0.8)^⅓ = 36.4 hours.
    const darkAt = 60 * (-Math.log(1 - random())) ** (1 / 3);
    const hours = follows === 'moving' ? movingHours : terrainHours;
    return { unitId: `u${i}`, terrainHours, movingHours, isDark: hours >= darkAt };
  });
}

describe('steps of the share gone dark', () => {
  it('rise, and pool services of the same hours', () => {
    const look = (terrainHours: number, isDark: boolean) => ({ terrainHours, isDark });
    const steps = darkSteps([
      look(30, true),
      look(10, false),
      look(20, true),
      look(20, false),
      look(25, false),
      look(10, false),
      look(40, true),
    ]);
    expect(steps).toEqual([
      { hours: 10, share: 0, services: 2 },
      { hours: 20, share: expect.closeTo(1 / 3, 12), services: 3 },
      { hours: 30, share: 1, services: 2 },
    ]);
  });
});

describe('what findings teach', () => {
  it('is silent below 40 services, or 10 dark ones', () => {
    const pale = (count: number) =>
      invented(count, 'pale', 'terrain').map((one) => ({ ...one, isDark: false }));
    const dark = (count: number) =>
      invented(count, 'dark', 'terrain').map((one) => ({ ...one, isDark: true }));
    expect(teach([], 's')).toEqual({
      services: 0,
      dark: 0,
      missing: { services: 40, dark: 10 },
      lesson: null,
      allDarkFrom: null,
    });
    expect(teach([...pale(29), ...dark(10)], 's').lesson).toBeNull();
    expect(teach([...pale(31), ...dark(9)], 's').lesson).toBeNull();
    expect(teach([...pale(30), ...dark(10)], 's').lesson).not.toBeNull();
    // Nothing can be ranked where all are dark, but from when on they were is told.
    const all = dark(60);
    const earliest = Math.min(...all.map(({ terrainHours }) => terrainHours));
    expect(teach(all, 's')).toMatchObject({ lesson: null, allDarkFrom: earliest });
    expect(teach(dark(9), 's').allDarkFrom).toBeNull();
    expect(teach([...dark(20), ...pale(1)], 's').allDarkFrom).toBeNull();
  });

  it('the same looks and seed give the same ranges', () => {
    const seen = invented(80, 'again', 'terrain');
    expect(teach(seen, 's')).toEqual(teach(seen, 's'));
  });

  it('finds the hours at which nine of ten are not yet dark, within its range about as often as it says', () => {
    const truth = 60 * (-Math.log(0.9)) ** (1 / 3);
    let covered = 0;
    const rounds = 20;
    for (let i = 0; i < rounds; i++) {
      const { low, high } = teach(invented(120, `round ${i}`, 'terrain'), `round ${i}`).lesson!.nineOfTen!;
      expect(low).toBeLessThan(high);
      if (low <= truth && truth <= high) covered++;
    }
    // Eight of ten are meant; 10 of 20 would be far too few by the binomial law (below 3 in 1000).
    expect(covered).toBeGreaterThan(10);
    const { hours } = teach(invented(3000, 'many', 'terrain'), 'many').lesson!.nineOfTen!;
    expect(Math.abs(hours - truth)).toBeLessThan(5);
  });

  it('offers no hours where rings darken no more with them', () => {
    const random = seededRandom('no law');
    const seen = invented(200, 'no law', 'terrain').map((one) => ({ ...one, isDark: random() < 0.4 }));
    const { nineOfTen } = teach(seen, 's').lesson!;
    if (nineOfTen !== null) expect(nineOfTen.high / Math.max(nineOfTen.low, 1e-9)).toBeGreaterThan(3);
  });

  it('says which hours foretell better, and says nothing where they are alike', () => {
    expect(teach(invented(150, 'a', 'terrain'), 'a').lesson!.better).toBe('terrain-hours');
    expect(teach(invented(150, 'b', 'moving'), 'b').lesson!.better).toBe('moving-hours');
    const alike = teach(invented(150, 'c', 'both'), 'c').lesson!;
    expect([alike.better, alike.lead]).toEqual(['undecided', 0]);
  });

  it('draws whole units: one unit that is all of it leaves no range', () => {
    const one = invented(60, 'one', 'terrain').map((look) => ({ ...look, unitId: 'u1' }));
    const { hours, low, high } = teach(one, 's').lesson!.nineOfTen!;
    // What is left is what the two curves differ by.
    expect(high - low).toBeLessThan(12);
    expect(low).toBeLessThanOrEqual(hours);
  });
});
