import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { CLAMP, DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import { teachWeights } from '../../../src/core/scale/ownWeights.js';
import { ringsBy, taughtBy } from '../../bench/evidence/ownWeightsEvidence.js';
import { RING_LAWS } from '../../bench/evidence/ringsEvidence.js';

const LAWS = Object.keys(RING_LAWS);
const isIn = ({ low, high }: { low: number; high: number }, value: number): boolean =>
  low <= value && value <= high;

describe('weights learnt from foam rings', () => {
  it('hold the weights that made the rings dark, eight times of ten, whatever those are', {
    timeout: 120_000,
  }, () => {
    // Invented: 300 workshops, each with weights of its own, three laws by which rings go dark.
    const random = seededRandom('weights of any workshop');
    const runs = 300;
    let [told, smoothHeld, roughHeld, narrow] = [0, 0, 0, 0];
    for (let i = 0; i < runs; i++) {
      const truth = { smooth: 0.5 * 2 ** random(), typical: 1, rough: 3 ** random() };
      const { own } = taughtBy(truth, LAWS[i % 3]!, i % 2 === 0 ? 80 : 160, `held ${i}`);
      // Some saw too few dark rings.
      if (own === null) continue;
      told += 1;
      if (isIn(own.smooth, truth.smooth)) smoothHeld += 1;
      if (isIn(own.rough, truth.rough)) roughHeld += 1;
      if (own.rough.high / own.rough.low < 2) narrow += 1;
    }
    for (const held of [smoothHeld, roughHeld]) expect(held / told).toBeGreaterThanOrEqual(0.8);
    // Ranges that hold everything would say nothing.
    expect(smoothHeld + roughHeld).toBeLessThan(0.97 * 2 * told);
    expect(narrow).toBeGreaterThan(told / 2);
    expect(told).toBeGreaterThanOrEqual(200);
  });

  it('come near the truth where much was seen', { timeout: 60_000 }, () => {
    const { own } = taughtBy({ smooth: 0.7, typical: 1, rough: 1.5 }, 'log-normal', 3000, 'much');
    expect(own!.weights.smooth).toBeGreaterThan(0.6);
    expect(own!.weights.smooth).toBeLessThan(0.8);
    expect(own!.weights.rough).toBeGreaterThan(1.3);
    expect(own!.weights.rough).toBeLessThan(1.75);
    expect(own!.weights.typical).toBe(1);
    expect(own!.holdsNow).toBe(false);
  });

  it('say that rings follow moving hours where they do', () => {
    const { own } = taughtBy({ smooth: 1, typical: 1, rough: 1 }, 'Weibull', 320, 'hours alone');
    expect(own!.smooth.high).toBe(1);
    expect(own!.rough.low).toBe(1);
    expect(own!.holdsNow).toBe(false);
  });

  it('are not told of too few, and how many more are missing', () => {
    const random = seededRandom('few');
    const seen = ringsBy(DEFAULT_WEIGHTS, RING_LAWS.Weibull!, 200, random);
    const dark = seen.filter(({ isDark }) => isDark);
    const light = seen.filter(({ isDark }) => !isDark);
    const taught = teachWeights([...dark.slice(0, 15), ...light.slice(0, 30)], DEFAULT_WEIGHTS, CLAMP);
    expect(taught).toEqual({
      services: 45,
      missing: { services: 35, dark: 5, notDark: 0 },
      own: null,
    });
    const allDark = Array.from({ length: 90 }, () => dark[0]!);
    expect(teachWeights(allDark, DEFAULT_WEIGHTS, CLAMP)).toMatchObject({
      missing: { services: 0, dark: 0, notDark: 20 },
      own: null,
    });
  });

  it('stay in what is allowed and in order, also where all rode the same ground', () => {
    const [one] = ringsBy(DEFAULT_WEIGHTS, RING_LAWS.Weibull!, 1, seededRandom('one'));
    const same = Array.from({ length: 100 }, (_, i) => ({ ground: one!.ground, isDark: i % 2 === 0 }));
    for (const now of [
      DEFAULT_WEIGHTS,
      { smooth: 0.5, typical: 0.5, rough: 3 },
      { smooth: 3, typical: 3, rough: 3 },
    ]) {
      const { own } = teachWeights(same, now, CLAMP);
      const { smooth, typical, rough } = own!.weights;
      expect(typical).toBe(now.typical);
      expect(smooth).toBeGreaterThanOrEqual(0.5);
      expect(smooth).toBeLessThanOrEqual(typical);
      expect(rough).toBeGreaterThanOrEqual(typical);
      expect(rough).toBeLessThanOrEqual(3);
      expect(own!.smooth).toEqual({ low: 0.5, high: now.typical });
      expect(own!.rough).toEqual({ low: now.typical, high: 3 });
    }
  });
});
