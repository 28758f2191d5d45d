import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../src/core/chance/seededRandom.js';
import { HALT, MOVING } from '../../../../src/core/ground/moving/moving.js';
import { heightsAtRest } from '../../../../src/core/ground/severity/heightsAtRest.js';
import { gaussian } from '../../../bench/evidence/iso8608.js';

const SECONDS = 600;
const kept = {
  count: SECONDS,
  timeMs: Float64Array.from({ length: SECONDS }, (_, i) => 1000 * i),
  begins: Uint8Array.from({ length: SECONDS }, (_, i) => (i === 0 ? 1 : 0)),
};
const heights = (of: (i: number) => number): Float64Array =>
  Float64Array.from({ length: SECONDS }, (_, i) => of(i));
const states = (isHalt: (i: number) => boolean): Uint8Array =>
  Uint8Array.from({ length: SECONDS }, (_, i) => (isHalt(i) ? HALT : MOVING));
const always = states(() => true);

describe('heights at rest', () => {
  it('are unknown where the bike hardly stood, or never as long as a look takes', () => {
    expect(
      heightsAtRest(
        kept,
        heights(() => 1),
        states(() => false),
      ),
    ).toBeNull();
    expect(
      heightsAtRest(
        kept,
        heights(() => 1),
        states((i) => i < 65),
      ),
    ).toBeNull();
    expect(
      heightsAtRest(
        kept,
        heights(() => 1),
        states((i) => i % 10 !== 0),
      ),
    ).toBeNull();
  });

  it('stand still, or do not: a standard deviation of their change in 10 s', () => {
    expect(
      heightsAtRest(
        kept,
        heights(() => 212.4),
        always,
      ),
    ).toEqual({ restS: 590, changeM: 0 });
    const next = gaussian(seededRandom('at rest'));
    // White noise of 1 m: the difference of two is √2. Source: variances of independent values add up.
    const { changeM } = heightsAtRest(
      kept,
      heights(() => next()),
      always,
    )!;
    expect(Math.abs(changeM - Math.SQRT2)).toBeLessThan(0.15);
  });

  it('bear a bike that is carried up some stairs, and missing heights', () => {
    const carried = heights((i) => (i < 500 ? 100 : i < 540 ? 100 + i - 500 : 140));
    expect(heightsAtRest(kept, carried, always)!.changeM).toBe(0);
    const holed = heights((i) => (i % 3 === 0 ? Number.NaN : 100));
    expect(heightsAtRest(kept, holed, always)!.changeM).toBe(0);
  });

  it('do not look across a stop of the recorder', () => {
    const begins = Uint8Array.from({ length: SECONDS }, (_, i) => (i % 8 === 0 ? 1 : 0));
    expect(
      heightsAtRest(
        { ...kept, begins },
        heights((i) => 50 * Math.floor(i / 8)),
        always,
      ),
    ).toBeNull();
  });
});
