import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../src/core/chance/seededRandom.js';
import type { MovingPath } from '../../../../src/core/ground/severity/movingPath.js';
import { estimateTerrain } from '../../../../src/core/ground/severity/severity.js';
import { gaussian } from '../../../bench/evidence/iso8608.js';
import { madePath, waves } from './madeGround.js';

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
const rolling = madePath({ lengthM: 9000, height: waves(4) });
/** Two minutes of standing in which nothing moved. */
const STILL = { restS: 120, changeM: 0 };
const noise = (spreadM: number, seed: string): (() => number) => {
  const next = gaussian(seededRandom(seed));
  return () => spreadM * next();
};
/** A random walk that is pulled back: noise that remembers. */
const slowNoise = (spreadM: number, memoryS: number, seed: string): (() => number) => {
  const next = gaussian(seededRandom(seed));
  const stay = Math.exp(-1 / memoryS);
  let error = spreadM * next();
  return () => {
    error = stay * error + spreadM * Math.sqrt(1 - stay ** 2) * next();
    return error;
  };
};

describe('without usable elevation', () => {
  it('has no quality, no cells and no classes', () => {
    for (const paths of [[], [madePath({ lengthM: 5000, height: () => Number.NaN })]]) {
      const { terrain, cells } = estimateTerrain(paths);
      expect(terrain.quality).toBeNull();
      expect(cells).toEqual([]);
      expect(sum(terrain.classS)).toBe(0);
    }
  });

  it('trusts nothing of a ride under 1500 m, though its seconds are kept', () => {
    const { terrain } = estimateTerrain([madePath({ lengthM: 1400, height: waves(4) })]);
    expect(terrain.quality).toBe(0);
    expect(sum(terrain.classS)).toBe(350);
  });

  it('trusts nothing of samples more than 136 m apart', () => {
    const path = madePath({ lengthM: 30_000, speedMps: 6, everyS: 25, height: waves(4) });
    expect(estimateTerrain([path]).terrain.quality).toBe(0);
  });

  it('trusts nothing of ground that is everywhere level', () => {
    const { terrain } = estimateTerrain([madePath({ lengthM: 9000, height: () => 120 })]);
    expect(terrain.quality).toBe(0);
    expect(terrain.gradientChange).toBe(0);
  });

  it('passes over empty paths and paths of one node', () => {
    const { cells } = estimateTerrain([
      madePath({ lengthM: -1, height: waves(4) }),
      madePath({ lengthM: 0, height: waves(4) }),
      rolling,
    ]);
    expect(new Set(cells.map(({ path }) => path))).toEqual(new Set([2]));
  });
});

describe('what it measures', () => {
  it('knows waves for ground: full quality once heights are seen to stand still, no noise', () => {
    const { terrain } = estimateTerrain([rolling], STILL);
    expect(terrain.quality).toBeGreaterThan(0.9);
    const unseen = estimateTerrain([rolling]).terrain.quality!;
    expect(unseen).toBeGreaterThan(0.5);
    expect(unseen).toBeLessThan(0.7);
    expect(terrain.noiseM).toBeLessThan(0.05);
  });

  it('gives twice the height twice the gradient change, and heights or an even grade on top nothing', () => {
    const { gradientChange } = estimateTerrain([rolling]).terrain;
    fc.assert(
      fc.property(
        // Over that, walls count as much as a tenth of the lag at most.
        fc.double({ min: 0.3, max: 1.3, noNaN: true }),
        fc.double({ min: -400, max: 4000, noNaN: true }),
        fc.double({ min: -0.12, max: 0.12, noNaN: true }),
        (times, offset, grade) => {
          const path = madePath({ lengthM: 9000, height: (x) => offset + grade * x + waves(4 * times)(x) });
          expect(estimateTerrain([path]).terrain.gradientChange! / gradientChange!).toBeCloseTo(times, 4);
        },
      ),
      { numRuns: 25 },
    );
  });

  it('finds the spread of white noise on level ground, and calls it poor', () => {
    const add = noise(0.8, 'white');
    const { terrain } = estimateTerrain([madePath({ lengthM: 60_000, height: () => add() })]);
    expect(terrain.noiseM! / 0.8).toBeGreaterThan(0.85);
    expect(terrain.noiseM! / 0.8).toBeLessThan(1.05);
    expect(terrain.quality).toBeLessThan(0.1);
  });

  it('calls a smooth way with slow noise of an altimeter poor, and leaves it good without', () => {
    const smooth = waves(0.5);
    const clean = estimateTerrain(
      [madePath({ lengthM: 30_000, speedMps: 7, height: smooth })],
      STILL,
    ).terrain;
    expect(clean.quality).toBeGreaterThan(0.9);
    for (const [spread, memory] of [
      [1, 20],
      [2, 20],
      [2, 60],
    ] as const) {
      const add = slowNoise(spread, memory, `slow ${memory}`);
      const path = madePath({ lengthM: 30_000, speedMps: 7, height: (x) => smooth(x) + add() });
      expect(estimateTerrain([path]).terrain.quality).toBeLessThan(0.4);
    }
  });

  it('bears steps of 1 m on real relief', () => {
    const stepped = madePath({ lengthM: 9000, height: (x) => Math.round(waves(4)(x)) });
    const ratio =
      estimateTerrain([stepped]).terrain.gradientChange! / estimateTerrain([rolling]).terrain.gradientChange!;
    expect(Math.abs(Math.log(ratio))).toBeLessThan(0.1);
  });

  it('takes the rougher half of a ride for rougher', () => {
    const half = madePath({ lengthM: 9000, height: (x) => waves(x < 4500 ? 1 : 5)(x) });
    const { cells } = estimateTerrain([half]);
    const mean = (isIn: (fromM: number) => boolean): number => {
      const those = cells.filter(({ fromM }) => isIn(fromM)).map(({ severity }) => severity);
      return sum(those) / those.length;
    };
    expect(mean((m) => m >= 5000)).toBeGreaterThan(1.5 * mean((m) => m < 4000));
  });

  it('charges speed by its square root on the same ground', () => {
    const severityAt = (speedMps: number): number =>
      estimateTerrain([madePath({ lengthM: 9000, speedMps, height: waves(4) })]).cells[10]!.severity;
    expect(severityAt(3.6) / severityAt(1.8)).toBeCloseTo(Math.SQRT2, 1);
    expect(severityAt(7) / severityAt(4)).toBeCloseTo(1, 1);
  });
});

describe('cells and classes', () => {
  it('keeps every moving second that has elevation, in whole numbers', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 100, max: 6000, noNaN: true }), { minLength: 1, maxLength: 6 }),
        fc.double({ min: 1, max: 9, noNaN: true }),
        (lengths, speedMps) => {
          const paths = lengths.map((lengthM) => madePath({ lengthM, speedMps, height: waves(2) }));
          const { terrain, cells } = estimateTerrain(paths);
          const movingS = sum(paths.map(({ tS }) => tS.at(-1)!));
          expect(terrain.classS.every((s) => Number.isInteger(s) && s >= 0)).toBe(true);
          expect(Math.abs(sum(terrain.classS) - movingS)).toBeLessThanOrEqual(0.5 + 1e-6);
          expect(sum(cells.map((cell) => cell.movingS))).toBeCloseTo(movingS, 3);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('follows one another over a path without a gap', () => {
    const { cells } = estimateTerrain([rolling]);
    expect(cells[0]!.fromM).toBe(0);
    expect(cells.at(-1)!.toM).toBe(rolling.xM.at(-1));
    for (let i = 1; i < cells.length; i += 1) expect(cells[i]!.fromM).toBe(cells[i - 1]!.toM);
    for (const { fromM, toM } of cells) expect(toM - fromM).toBeGreaterThan(250);
  });

  it('counts no seconds and less quality where elevation is missing', () => {
    const holed: MovingPath = {
      ...rolling,
      zM: rolling.zM.map((z, i) => (rolling.xM[i]! > 6000 ? Number.NaN : z)),
    };
    const inside: MovingPath = {
      ...rolling,
      zM: rolling.zM.map((z, i) => (rolling.xM[i]! > 3000 && rolling.xM[i]! < 6000 ? Number.NaN : z)),
    };
    const whole = estimateTerrain([rolling]).terrain;
    for (const path of [holed, inside]) {
      const { terrain } = estimateTerrain([path]);
      expect(sum(terrain.classS)).toBeGreaterThan(1490);
      expect(sum(terrain.classS)).toBeLessThan(1515);
      expect(terrain.quality! / whole.quality!).toBeLessThan(0.7);
    }
  });
});
