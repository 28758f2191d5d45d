import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { plainTime } from '../../../src/core/days/plainTime.js';
import { momentOf } from '../../../src/core/ledger/moment.js';
import { isoTime } from '../../../src/units.js';

const two = (most: number) => fc.integer({ min: 0, max: most }).map((n) => String(n).padStart(2, '0'));

/** Times as they are typed, some of days that there are not. */
const TYPED = fc
  .record({
    year: fc.integer({ min: 1, max: 9999 }).map((year) => String(year).padStart(4, '0')),
    month: two(13),
    day: two(32),
    between: fc.constantFrom('T', ' '),
    clock: fc.tuple(two(24), two(60)).map((parts) => parts.join(':')),
    seconds: fc.oneof(
      fc.constant(''),
      two(59).map((s) => `:${s}`),
      fc.tuple(two(59), fc.stringMatching(/^\d{1,9}$/)).map(([s, part]) => `:${s}.${part}`),
    ),
    zone: fc.oneof(
      fc.constantFrom('Z', 'z', ''),
      fc.tuple(fc.constantFrom('+', '-'), two(24)).map((parts) => parts.join('')),
      fc.tuple(fc.constantFrom('+', '-'), two(24), fc.constantFrom('', ':'), two(60)).map((p) => p.join('')),
    ),
  })
  .map((t) => `${t.year}-${t.month}-${t.day}${t.between}${t.clock}${t.seconds}${t.zone}`);

// The reference is the polyfill of ECMAScript's Temporal, which reads ISO 8601 and RFC 9557.
function reference(text: string): number | null {
  try {
    const at = Temporal.Instant.from(text).epochMilliseconds;
    return at >= Date.UTC(1000, 0, 2) && at <= Date.UTC(9999, 11, 30) ? at : null;
  } catch {
    return null;
  }
}

describe('plainTime', () => {
  it('reads what is typed as Temporal reads it', () => {
    fc.assert(
      fc.property(TYPED, (text) => {
        expect(plainTime(text), text).toBe(reference(text));
        expect(momentOf(text, 'Etc/UTC'), text).toBe(plainTime(text) ?? plainTime(`${text}Z`));
      }),
      { numRuns: 2000 },
    );
  });

  it('reads the examples of RFC 3339, 5.8', () => {
    const read = (text: string) => isoTime(plainTime(text)!);
    expect(read('1985-04-12T23:20:50.52Z')).toBe('1985-04-12T23:20:50.520Z');
    expect(read('1996-12-19T16:39:57-08:00')).toBe('1996-12-20T00:39:57Z');
    expect(read('1937-01-01T12:00:27.87+00:20')).toBe('1937-01-01T11:40:27.870Z');
  });

  it('reads nothing else', () => {
    for (const text of [
      '',
      'now',
      '2025-06-10',
      '2025-06-10T10:00',
      '2025-02-30T10:00Z',
      '2025-06-10T24:00Z',
    ])
      expect(plainTime(text), text).toBeNull();
  });
});
