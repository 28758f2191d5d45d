import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dateTimeOf, decimalOf } from '../../../src/files/xml/xmlValues.js';

describe('decimalOf', () => {
  it('reads decimals with white space around', () => {
    expect(['12', '-0.5', '+3.', '.25', ' 7.50\n'].map(decimalOf)).toEqual([12, -0.5, 3, 0.25, 7.5]);
  });

  it('refuses what only looks like a number', () => {
    for (const text of ['', ' ', '1,5', '0x10', 'NaN', 'Infinity', '1 2', '--1', '.', '12m']) {
      expect(decimalOf(text), text).toBeNaN();
    }
    expect(decimalOf(undefined)).toBeNaN();
  });
});

describe('dateTimeOf', () => {
  it('agrees with the ISO form of any moment', () => {
    fc.assert(
      fc.property(fc.date({ min: new Date(0), max: new Date('2100-01-01'), noInvalidDate: true }), (date) => {
        expect(dateTimeOf(date.toISOString())).toEqual({ ms: date.getTime(), zoned: true });
      }),
    );
  });

  it('reads zones, fractions and what has no zone', () => {
    const utc = Date.UTC(2024, 1, 29, 23, 30);
    expect(dateTimeOf('2024-02-29T23:30:00+00:00')).toEqual({ ms: utc, zoned: true });
    expect(dateTimeOf('2024-03-01T01:30:00+02:00')).toEqual({ ms: utc, zoned: true });
    expect(dateTimeOf('2024-02-29T18:00:00-05:30')).toEqual({ ms: utc, zoned: true });
    expect(dateTimeOf(' 2024-02-29T23:30:00.1239Z ')).toEqual({ ms: utc + 124, zoned: true });
    expect(dateTimeOf('2024-02-29T23:30:00')).toEqual({ ms: utc, zoned: false });
  });

  it('takes a leap second and the hour that ends a day', () => {
    expect(dateTimeOf('2016-12-31T23:59:60Z').ms).toBe(Date.UTC(2017, 0, 1));
    expect(dateTimeOf('2024-05-01T24:00:00Z').ms).toBe(Date.UTC(2024, 4, 2));
  });

  it('refuses what is no moment', () => {
    for (const text of [
      '',
      '2023-02-29T10:00:00Z',
      '2024-13-01T10:00:00Z',
      '2024-00-01T10:00:00Z',
      '2024-05-01',
    ]) {
      expect(dateTimeOf(text).ms, text).toBeNaN();
    }
    for (const text of ['2024-05-01T25:00:00Z', '2024-05-01T10:60:00Z', '1714557600', '01.05.2024 10:00']) {
      expect(dateTimeOf(text).ms, text).toBeNaN();
    }
  });
});
