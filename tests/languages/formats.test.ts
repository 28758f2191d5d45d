import { expect, test } from 'vitest';
import { dateFormat, listFormat, numberFormat } from '../../src/languages/formats.js';

test('a format is made once for a locale and its options, and writes as a fresh one does', () => {
  const two = { minimumFractionDigits: 2 };
  expect(numberFormat('en', two)).toBe(numberFormat('en', { ...two }));
  expect(numberFormat('en', two)).not.toBe(numberFormat('pt', two));
  expect(numberFormat('en', two)).not.toBe(numberFormat('en', { minimumFractionDigits: 1 }));
  for (const locale of ['en-GB', 'pt-PT']) {
    expect(numberFormat(locale, two).format(1.5)).toBe(new Intl.NumberFormat(locale, two).format(1.5));
    const month = { month: 'short', timeZone: 'UTC' } as const;
    expect(dateFormat(locale, month).format(0)).toBe(new Intl.DateTimeFormat(locale, month).format(0));
    const or = { type: 'disjunction' } as const;
    expect(listFormat(locale, or).format(['a', 'b'])).toBe(
      new Intl.ListFormat(locale, or).format(['a', 'b']),
    );
  }
});
