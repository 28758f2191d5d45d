import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SEVERITY_CLASSES, type Terrain } from '../../../src/core/ground/samples/reading.js';
import { severityOfClass } from '../../../src/core/ground/severity/severityClasses.js';
import {
  CLAMP,
  DEFAULT_WEIGHTS,
  FLEET_CLAMP,
  groundAt,
  priorOf,
  severityOf,
  terrainOf,
  weighedClasses,
  weightAt,
} from '../../../src/core/ledger/weight.js';
import { seconds } from '../../../src/units.js';

const NOTHING: Terrain = {
  classS: new Array<number>(SEVERITY_CLASSES).fill(0),
  quality: null,
  witnessWeight: 0,
  witness: 0,
  gradientChange: null,
  noiseM: null,
};
const inClass = (index: number, s = 3600): readonly number[] =>
  NOTHING.classS.map((_, i) => (i === index ? s : 0));
const options = { prior: 1, weights: DEFAULT_WEIGHTS };
const terrains = fc.record({
  classS: fc
    .array(fc.integer({ min: 0, max: 4000 }), { minLength: SEVERITY_CLASSES, maxLength: SEVERITY_CLASSES })
    .filter((all) => all.some((s) => s > 0)),
  quality: fc.double({ min: 0, max: 1, noNaN: true }),
  witnessWeight: fc.constantFrom(0, 0.5, 1),
  witness: fc.double({ min: -1.39, max: 1.39, noNaN: true }),
  gradientChange: fc.constant(0.01),
  noiseM: fc.constant(0),
});

describe('weightAt', () => {
  it('passes through the three that the workshop sets and is level outside', () => {
    const weights = { smooth: 0.6, typical: 1.1, rough: 2.5 };
    expect([0.1, 0.3, 1, 2, 9].map((s) => weightAt(s, weights))).toEqual([0.6, 0.6, 1.1, 2.5, 2.5]);
  });

  it('is straight in logarithms between them', () => {
    expect(weightAt(Math.sqrt(0.3), DEFAULT_WEIGHTS)).toBeCloseTo(Math.sqrt(0.5), 12);
    expect(weightAt(Math.SQRT2, DEFAULT_WEIGHTS)).toBeCloseTo(Math.SQRT2, 12);
    expect(weightAt(0.6, DEFAULT_WEIGHTS)).toBeCloseTo(0.6 ** (Math.log(0.5) / Math.log(0.3)), 12);
  });

  it('never falls as the ground gets rougher', () => {
    const severity = fc.double({ min: 0.05, max: 10, noNaN: true });
    fc.assert(
      fc.property(severity, severity, (a, b) => {
        expect(weightAt(Math.max(a, b), DEFAULT_WEIGHTS)).toBeGreaterThanOrEqual(
          weightAt(Math.min(a, b), DEFAULT_WEIGHTS),
        );
      }),
    );
  });
});

describe('priorOf', () => {
  it('goes by the file, else by the bike, else takes a trail', () => {
    expect(priorOf('road', 'gravity')).toBe(0.6);
    expect(priorOf('gravel_cycling', null)).toBe(0.8);
    expect(priorOf('mountain', 'road')).toBe(1);
    expect(priorOf('enduro', 'trail')).toBe(1.4);
    expect(priorOf('generic', 'road')).toBe(0.6);
    expect(priorOf(null, 'gravity')).toBe(1.4);
    expect(priorOf('constructor', 'other')).toBe(1);
    expect(priorOf(null, null)).toBe(1);
  });
});

describe('severityOf', () => {
  it('is the prior exactly where there is no usable elevation, whatever the witnesses say', () => {
    expect(severityOf({ ...NOTHING, witnessWeight: 1, witness: -1 }, 0.6)).toBe(0.6);
    expect(severityOf({ ...NOTHING, quality: 0.9, witnessWeight: 1, witness: -1 }, 1.4)).toBe(1.4);
  });

  it('is raw severity where elevation is perfect and nobody else speaks', () => {
    expect(severityOf({ ...NOTHING, classS: inClass(5), quality: 1 }, 1)).toBeCloseTo(severityOfClass(5), 12);
  });

  it('joins prior and witnesses as the formula says', () => {
    const terrain = { ...NOTHING, classS: inClass(3), quality: 0.5, witnessWeight: 1, witness: -0.8 };
    const joined = 0.5 * Math.log(severityOfClass(3)) + 0.5 * (0.25 * Math.log(0.6) + 0.75 * -0.8);
    expect(severityOf(terrain, 0.6)).toBeCloseTo(Math.exp(0.6 * joined + 0.4 * -0.8), 12);
  });

  it('shrinks towards the prior as quality falls', () => {
    const far = (quality: number): number =>
      Math.abs(Math.log(severityOf({ ...NOTHING, classS: inClass(1), quality }, 1)));
    expect([1, 0.7, 0.4, 0.1, 0].map(far)).toEqual([1, 0.7, 0.4, 0.1, 0].map(far).sort((a, b) => b - a));
    expect(far(0)).toBe(0);
  });
});

describe('terrainOf', () => {
  it('weighs a ride without elevation at its prior', () => {
    expect(terrainOf(NOTHING, seconds(3600), { ...options, prior: 1 })).toEqual({
      severity: 1,
      weight: 1,
      groundMs: 3_600_000,
      terrainMs: 3_600_000,
    });
  });

  it('weighs each class by itself: half smooth and half rough is not the middle', () => {
    const classS = inClass(1, 1800).map((s, i) => s + inClass(12, 1800)[i]!);
    const { weight } = terrainOf({ ...NOTHING, classS, quality: 1 }, seconds(3600), options);
    const [smooth, rough] = [1, 12].map((i) => weightAt(severityOfClass(i), DEFAULT_WEIGHTS));
    expect(weight).toBeCloseTo((smooth! + rough!) / 2, 12);
  });

  it('weighs moving time beyond the classes as the ride on average', () => {
    const terrain = { ...NOTHING, classS: inClass(5), quality: 0.8 };
    const one = terrainOf(terrain, seconds(3600), options);
    const two = terrainOf(terrain, seconds(7200), options);
    expect(two.weight).toBe(one.weight);
    expect(two.terrainMs).toBeCloseTo(2 * one.terrainMs, -1);
  });

  it('stays inside the bounds, the product of all of them, in whole thousandths', () => {
    fc.assert(
      fc.property(
        terrains,
        fc.integer({ min: 0, max: 90_000 }),
        fc.boolean(),
        fc.constantFrom(CLAMP, FLEET_CLAMP),
        (terrain, movingS, wet, clamp) => {
          const { weight, terrainMs } = terrainOf(terrain, seconds(movingS), {
            ...options,
            wet,
            clamp,
          });
          expect(weight).toBeGreaterThanOrEqual(clamp.low);
          expect(weight).toBeLessThanOrEqual(clamp.high);
          expect(Number.isInteger(terrainMs)).toBe(true);
          expect(Math.abs(terrainMs - weight * movingS * 1000)).toBeLessThanOrEqual(0.5 + 1e-6);
        },
      ),
    );
  });

  it('takes wet as a factor of the ground', () => {
    expect(terrainOf(NOTHING, seconds(1000), { ...options, prior: 1, wet: true }).weight).toBeCloseTo(
      1.2,
      12,
    );
  });

  it('never weighs less where elevation shows rougher ground', () => {
    fc.assert(
      fc.property(terrains, fc.integer({ min: 0, max: SEVERITY_CLASSES - 2 }), (terrain, at) => {
        const rougher = terrain.classS.map((s, i) =>
          i === at ? 0 : i === at + 1 ? s + terrain.classS[at]! : s,
        );
        const weigh = (classS: readonly number[]): number =>
          terrainOf({ ...terrain, classS }, seconds(3600), options).weight;
        expect(weigh(rougher)).toBeGreaterThanOrEqual(weigh(terrain.classS) - 1e-12);
      }),
    );
  });
});

describe('weighedClasses', () => {
  it('weighs hour by hour what the ride weighs as a whole', () => {
    fc.assert(
      fc.property(terrains, fc.double({ min: 0.3, max: 2, noNaN: true }), (terrain, prior) => {
        const classes = weighedClasses(terrain, { ...options, prior });
        const movingS = classes.reduce((sum, one) => sum + one.movingS, 0);
        const terrainS = classes.reduce((sum, one) => sum + one.movingS * one.weight, 0);
        expect(movingS).toBe(terrain.classS.reduce((sum, s) => sum + s, 0));
        const { weight } = terrainOf(terrain, seconds(movingS), { ...options, prior });
        expect(terrainS / movingS).toBeCloseTo(weight, 9);
      }),
    );
  });

  it('has none without usable elevation', () => {
    expect(weighedClasses(NOTHING, options)).toEqual([]);
  });
});

describe('landings', () => {
  const felt: Terrain = { ...NOTHING, landings: { count: 129, hangS: 59.4, longestS: 0.76 } };
  const movingS = seconds(3850);

  it('add ten terrain seconds for each second in the air, or what the workshop says, and nothing at 0', () => {
    const plain = terrainOf(NOTHING, movingS, options);
    expect(terrainOf(felt, movingS, options).groundMs - plain.groundMs).toBe(594_000);
    const set = (landing: number) => ({ ...options, weights: { ...DEFAULT_WEIGHTS, landing } });
    expect(terrainOf(felt, movingS, set(2)).groundMs - plain.groundMs).toBe(118_800);
    expect(terrainOf(felt, movingS, set(0))).toEqual(plain);
  });

  it('are added before a wet mark and before the bounds, which hold all the same', () => {
    const wet = { ...options, wet: true };
    expect(terrainOf(felt, movingS, wet).groundMs - terrainOf(NOTHING, movingS, wet).groundMs).toBe(712_800);
    const many: Terrain = { ...NOTHING, landings: { count: 9000, hangS: 3000, longestS: 3 } };
    expect(terrainOf(many, movingS, options).terrainMs).toBe(CLAMP.high * 3850 * 1000);
    expect(terrainOf(many, movingS, options).weight).toBe(CLAMP.high);
  });
});

describe('groundAt', () => {
  it('names the nearest of the three, and the rougher in the middle between two', () => {
    const named = [0.2, 0.3, 0.547, 0.548, 1, 1.41, 1.415, 5].map(groundAt);
    expect(named).toEqual(['smooth', 'smooth', 'smooth', 'typical', 'typical', 'typical', 'rough', 'rough']);
  });
});
