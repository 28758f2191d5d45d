import { expect, it } from 'vitest';
import { hemisphereOf } from '../../../src/core/forecast/hemisphere.js';
import { day } from '../../../src/units.js';

// Source: the IANA time zone data; Dublin's winter time is a standard time put back.
it.each([
  ['Europe/Lisbon', 1],
  ['Europe/Dublin', 1],
  ['America/New_York', 1],
  ['Australia/Sydney', -1],
  ['Pacific/Auckland', -1],
  ['America/Santiago', -1],
  ['Asia/Tokyo', 0],
  ['Africa/Johannesburg', 0],
  ['UTC', 0],
])('summer of %s is told by its clocks', (zone, hemisphere) => {
  for (const today of ['2025-01-02', '2025-07-02', '2026-12-31'])
    expect(hemisphereOf(zone, day(today))).toBe(hemisphere);
});
