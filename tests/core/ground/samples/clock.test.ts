import { describe, expect, it } from 'vitest';
import { clockQuestion } from '../../../../src/core/ground/samples/clock.js';
import { instant } from '../../../../src/units.js';

const NOW = instant(Date.UTC(2026, 5, 10));
const HOUR = 3_600_000;

describe('the clock of a recording', () => {
  it.each([
    ['1970-01-01', Date.UTC(1970, 0, 1)],
    ['1989-12-31', Date.UTC(1989, 11, 31)],
    ['2000-01-01', Date.UTC(2000, 0, 1)],
    ['2000-12-31', Date.UTC(2001, 0, 1) - 1],
  ])('was never set where it stands at %s', (_, firstMs) => {
    expect(clockQuestion(firstMs, false, NOW)).toBe('clock-unset');
  });

  it('is believed from 2001 on, and up to a day ahead', () => {
    expect(clockQuestion(Date.UTC(2001, 0, 1), false, NOW)).toBeNull();
    expect(clockQuestion(NOW + 24 * HOUR, false, NOW)).toBeNull();
    expect(clockQuestion(NOW + 24 * HOUR + 1, false, NOW)).toBe('clock-future');
  });

  it('is asked about where no sample has a time', () => {
    expect(clockQuestion(Number.NaN, true, NOW)).toBe('no-times');
  });
});
