import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crc16 } from '../../../src/files/fit/crc16.js';

describe('crc16', () => {
  it('is 0 over anything followed by its own checksum, low byte first', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        const crc = crc16(bytes);
        expect(crc16(Uint8Array.from([...bytes, crc & 255, crc >> 8]))).toBe(0);
      }),
    );
  });

  it('changes with any single bit', () => {
    const bytes = Uint8Array.from({ length: 20 }, (_, i) => i * 11);
    for (let bit = 0; bit < 160; bit += 1) {
      const flipped = Uint8Array.from(bytes);
      flipped[bit >> 3]! ^= 1 << (bit & 7);
      expect(crc16(flipped)).not.toBe(crc16(bytes));
    }
  });
});
