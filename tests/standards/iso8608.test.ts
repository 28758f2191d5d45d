import { describe, expect, it } from 'vitest';
import { estimateTerrain } from '../../src/core/ground/severity/severity.js';
import {
  CLASS_MEANS,
  IDEAL,
  isoProfile,
  N0,
  recordedPath,
  roughnessIndex,
  singleMass,
  slidingMetresPerHour,
  USUAL,
  velocitySpectrum,
} from '../bench/evidence/iso8608.js';
import { median, rankCorrelation } from '../bench/evidence/separation.js';

const FORK = { naturalHz: 2, damping: 0.3 };
const C = 256e-6;

describe('classes', () => {
  // Source: ISO 8608; bounds confirmed in published code that cites it, means from memory.
  it('have means of 16 · 4^k · 10⁻⁶ m³', () => {
    expect(CLASS_MEANS.map((gd) => Math.round(gd * 1e6))).toEqual([
      16, 64, 256, 1024, 4096, 16_384, 65_536, 262_144,
    ]);
  });

  // Source: Turner, Cycling on rough roads, arXiv 2405.00019: IRI ≈ 0.22 · √Gd; A 0.88 to F 28.16 m/km.
  it('rise in roughness index as published, each class by two', () => {
    const published = [0.88, 1.76, 3.52, 7.04, 14.08, 28.16];
    published.forEach((index, k) => {
      expect(0.22 * Math.sqrt(CLASS_MEANS[k]! * 1e6)).toBeCloseTo(index, 9);
      expect(roughnessIndex(CLASS_MEANS[k]!) / roughnessIndex(CLASS_MEANS[0]!)).toBeCloseTo(index / 0.88, 6);
    });
  });

  // Source, from memory: IRI = 2.21 · √Gd(Ω0), Gd in 10⁻⁶ m³ at 1 rad/m. The level above is 2.5 times lower than this.
  it('have the level that the quarter car of the index gives', () => {
    const atOneRadian = (C * (2 * Math.PI * N0) ** 2) / (2 * Math.PI);
    expect(roughnessIndex(C) / (2.21 * Math.sqrt(atOneRadian * 1e6))).toBeGreaterThan(0.95);
    expect(roughnessIndex(C) / (2.21 * Math.sqrt(atOneRadian * 1e6))).toBeLessThan(1.05);
  });
});

// Source: computed from ISO 8608's spectrum with w = 2, whose vertical velocity is white: (2π n0)² Gd v.
describe('a single mass over the white velocity of class C', () => {
  const band = { ...FORK, bandHz: 60 };

  it('travels 3.638 mm and slides 0.1599 m/s at 4 m/s', () => {
    const { travelM, slidingMps } = singleMass(C, 4, band);
    expect(travelM * 1000).toBeCloseTo(3.638, 3);
    expect(slidingMps).toBeCloseTo(0.1599, 4);
  });

  it('doubles at four times the speed, and at four times the roughness', () => {
    for (const { travelM, slidingMps } of [singleMass(C, 16, band), singleMass(4 * C, 4, band)]) {
      expect(travelM * 1000).toBeCloseTo(7.276, 2);
      expect(slidingMps).toBeCloseTo(0.3198, 4);
    }
  });

  it('agrees with the closed form √(G/(8 ζ ω)) over all frequencies', () => {
    const closed = Math.sqrt(velocitySpectrum(C, 4) / (8 * 0.3 * 2 * Math.PI * 2));
    expect(closed * 1000).toBeCloseTo(3.661, 3);
    expect(singleMass(C, 4, { ...FORK, bandHz: 2000 }).travelM / closed).toBeCloseTo(1, 3);
  });

  it('slides as far when stepped over a made profile: √(2/π) of its r.m.s.', () => {
    const [stepM, v] = [0.05, 4];
    const slid = slidingMetresPerHour(isoProfile(C, 4000, stepM, 'stepped'), stepM, v, FORK);
    const expected =
      singleMass(C, v, { ...FORK, bandHz: v / (2 * stepM) }).slidingMps * Math.sqrt(2 / Math.PI) * 3600;
    expect(slid / expected).toBeGreaterThan(0.9);
    expect(slid / expected).toBeLessThan(1.1);
  });
});

it('makes profiles whose third differences are those of the spectrum', () => {
  // A random walk of D a metre, D = (2π n0)² Gd / 2, has 6/20 · D · L in a squared third difference over 20.
  const [gd, stepM, lag] = [CLASS_MEANS[5]!, 0.25, 80];
  const z = isoProfile(gd, 200_000, stepM, 'spectrum');
  const k = lag / stepM;
  let sum = 0;
  for (let i = 0; i + 3 * k < z.length; i += 1)
    sum += (z[i]! - 3 * z[i + k]! + 3 * z[i + 2 * k]! - z[i + 3 * k]!) ** 2 / 20;
  const expected = (0.3 * (2 * Math.PI * N0) ** 2 * gd * lag) / 2;
  const ratio = sum / (z.length - 3 * k) / expected;
  expect(Math.abs(Math.log(ratio))).toBeLessThan(0.12);
});

describe('the estimate on made ground', () => {
  const gammaOf = (k: number, speedMps: number, recorder = USUAL): number =>
    median(
      ['a', 'b', 'c'].map((seed) => {
        const profile = isoProfile(CLASS_MEANS[k]!, 15_000, 0.25, `${seed}${k}`);
        return estimateTerrain([recordedPath(profile, 0.25, speedMps, recorder, seed)]).terrain
          .gradientChange!;
      }),
    );

  // Source: ISO 8608: r.m.s. suspension velocity goes with √Gd, so a class doubles it.
  it('doubles with each class from F to H behind a usual recorder', () => {
    for (const k of [5, 6]) {
      const rise = gammaOf(k + 1, 4) / gammaOf(k, 4);
      expect(rise).toBeGreaterThan(1.7);
      expect(rise).toBeLessThan(2.35);
    }
  });

  it('cannot tell A from D there: a recorder shows them as one', () => {
    expect(gammaOf(3, 4) / gammaOf(0, 4)).toBeLessThan(1.4);
  });

  it('follows √Gd over all classes where nothing stands between', () => {
    for (const k of [0, 3, 7]) {
      const kept = gammaOf(k, 4, IDEAL) / gammaOf(5, 4, IDEAL) / Math.sqrt(CLASS_MEANS[k]! / CLASS_MEANS[5]!);
      expect(Math.abs(Math.log(kept))).toBeLessThan(0.15);
    }
  });

  it('ranks classes E to H at three speeds as a simulated suspension slides', () => {
    const slid: number[] = [];
    const severity: number[] = [];
    for (const k of [4, 5, 6, 7])
      for (const v of [2, 3, 4]) {
        slid.push(slidingMetresPerHour(isoProfile(CLASS_MEANS[k]!, 2000, 0.1, `${k}`), 0.1, v, FORK));
        severity.push(gammaOf(k, v) * Math.sqrt(v));
      }
    expect(rankCorrelation(slid, severity)).toBeGreaterThan(0.95);
  });
});
