import { expect, test } from 'vitest';
import { monthsIn } from '../../../src/core/days/monthList.js';

test.each([
  ['4-10', [4, 5, 6, 7, 8, 9, 10]],
  ['11-2', [1, 2, 11, 12]],
  [' 5, 4 , 5', [4, 5]],
  ['4 – 6', [4, 5, 6]],
  ['', [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]],
])('%s is these months', (text, months) => expect(monthsIn(text)).toEqual(months));

test.each(['13', '0-4', 'April', '4-', '4--5', '4.5'])('%s is none', (text) =>
  expect(monthsIn(text)).toBeNull(),
);
