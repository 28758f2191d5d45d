import { describe, expect, it } from 'vitest';
import { isWholeFit, splitFitParts } from '../../../src/files/fit/fitParts.js';
import { rideFit, straightRide } from '../../fixtures/fitFile.js';

const ride = () => rideFit({ samples: straightRide(Date.UTC(2024, 4, 1), 5) });
const joined = (...parts: Uint8Array[]) => Uint8Array.from(parts.flatMap((part) => [...part]));
const damages = (bytes: Uint8Array) => splitFitParts(bytes).parts.map((part) => part.damage);

describe('splitFitParts', () => {
  it('takes a file of one part, with either header', () => {
    for (const headerSize of [12, 14] as const) {
      const bytes = ride().bytes({ headerSize });
      expect(damages(bytes)).toEqual([null]);
      expect(isWholeFit(bytes)).toBe(true);
    }
  });

  it('splits chained parts', () => {
    expect(damages(joined(ride().bytes(), ride().bytes({ headerSize: 12 }), ride().bytes()))).toEqual([
      null,
      null,
      null,
    ]);
  });

  it('sees any single flipped bit', () => {
    const bytes = ride().bytes();
    for (let bit = 0; bit < bytes.length * 8; bit += 1) {
      const flipped = Uint8Array.from(bytes);
      flipped[bit >> 3]! ^= 1 << (bit & 7);
      expect(isWholeFit(flipped), `bit ${bit}`).toBe(false);
    }
  });

  it('is cut off at every length short of the whole, and never whole', () => {
    const bytes = ride().bytes();
    for (let length = 14; length < bytes.length; length += 1) {
      expect(damages(bytes.subarray(0, length))).toEqual(['cut-off']);
      expect(isWholeFit(bytes.subarray(0, length))).toBe(false);
    }
  });

  it('takes a data size of 0 as one that was never written', () => {
    const { parts } = splitFitParts(ride().bytes({ dataSize: 0 }));
    expect(parts).toMatchObject([{ damage: 'cut-off' }]);
    expect(parts[0]!.bytes.length).toBe(ride().bytes().length);
  });

  it('tells garbage after a good part', () => {
    const bytes = joined(ride().bytes(), Uint8Array.of(1, 2, 3));
    expect(splitFitParts(bytes)).toMatchObject({ parts: [{ damage: null }], garbageAfter: true });
    expect(isWholeFit(bytes)).toBe(false);
  });
});
