import fc from 'fast-check';
import { expect, it } from 'vitest';
import { PlainMoments } from '../../../../src/files/gpx/plain/plainMoments.js';
import { dateTimeOf } from '../../../../src/files/xml/xmlValues.js';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(`<${text}>`);

it('moments in bytes are what the text stands for, or none', () => {
  const two = (most: number) => fc.integer({ min: 0, max: most }).map((n) => String(n).padStart(2, '0'));
  const stamp = fc
    .tuple(fc.integer({ min: 0, max: 9999 }), two(13), two(32), two(25), two(61), two(61))
    .map(([y, mo, d, h, mi, s]) => `${String(y).padStart(4, '0')}-${mo}-${d}T${h}:${mi}:${s}`);
  const ends = fc.oneof(fc.constantFrom('Z', '', 'z', '+01:00', '.Z'), fc.stringMatching(/^\.\d{1,4}Z$/));
  const moments = new PlainMoments();
  let taken = 0;
  fc.assert(
    fc.property(stamp, ends, (day, end) => {
      const text = `${day}${end}`;
      const bytes = bytesOf(text);
      const ms = moments.in(bytes, 1, bytes.length - 1);
      if (ms === null) return;
      taken += 1;
      expect({ ms, zoned: true }, text).toEqual(dateTimeOf(text));
    }),
    { numRuns: 5000 },
  );
  expect(taken).toBeGreaterThan(500);
});
