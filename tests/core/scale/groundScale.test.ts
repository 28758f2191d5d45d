import { describe, expect, it } from 'vitest';
import { exampleOf, kindScales, type WeighedRide } from '../../../src/core/scale/groundScale.js';
import type { BikeType } from '../../../src/core/tokens.js';

const ride = (severity: number, more: Partial<WeighedRide> = {}): WeighedRide => ({
  kind: 'trail',
  severity,
  quality: 0.9,
  movingS: 3600,
  weight: severity,
  ...more,
});

describe('an example of a ground', () => {
  it('is the ride most like it, of those that are on it', () => {
    const rides = [0.2, 0.33, 0.5, 0.7, 0.95, 1.3, 1.5, 2.4].map((severity) => ride(severity));
    expect(exampleOf(rides, 'smooth')!.severity).toBe(0.33);
    expect(exampleOf(rides, 'typical')!.severity).toBe(0.95);
    expect(exampleOf(rides, 'rough')!.severity).toBe(2.4);
  });

  it('is no ride of another ground, none with doubtful elevation, and no short one', () => {
    expect(exampleOf([ride(1.3)], 'rough')).toBeUndefined();
    const doubtful = [ride(2, { quality: 0.6 }), ride(2, { quality: null }), ride(2, { movingS: 1199 })];
    expect(exampleOf(doubtful, 'rough')).toBeUndefined();
    expect(exampleOf([...doubtful, ride(1.6)], 'rough')!.severity).toBe(1.6);
  });
});

describe('what an hour weighs by kind', () => {
  const many = (kind: BikeType, weights: readonly number[]) =>
    weights.map((weight) => ride(1, { kind, weight }));

  it('is its middle and eight of ten, lightest kind first', () => {
    const eleven = Array.from({ length: 11 }, (_, i) => 1 + i / 10);
    const scales = kindScales([...many('gravity', eleven), ...many('road', [0.5, 0.5, 0.6, 0.5, 0.5])]);
    expect(scales.map(({ kind, rides }) => [kind, rides])).toEqual([
      ['road', 5],
      ['gravity', 11],
    ]);
    expect(scales[1]!.range).toEqual({ low: 1.1, middle: 1.5, high: 1.9 });
    expect(kindScales([...many('gravity', eleven)].reverse())).toEqual([scales[1]]);
  });

  it('is not told of fewer than five rides', () => {
    expect(kindScales(many('gravel', [0.6, 0.6, 0.7, 0.7]))).toEqual([
      { kind: 'gravel', rides: 4, range: null },
    ]);
    expect(kindScales([ride(1, { quality: 0.1 })])).toEqual([]);
  });
});
