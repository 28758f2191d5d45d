import { expect, test } from 'vitest';
import { readUsedParts } from '../../../src/web/unit/usedParts.js';

test.each([
  [
    '2 × foam ring; 7,5 ml bath oil',
    [
      [2, 'pieces', 'foam ring'],
      [7.5, 'ml', 'bath oil'],
    ],
  ],
  ['2x crush washer;', [[2, 'pieces', 'crush washer']]],
  ['10ML oil', [[10, 'ml', 'oil']]],
  ['wiper kit', [[1, 'pieces', 'wiper kit']]],
  ['3 mlx rings', [[3, 'pieces', 'mlx rings']]],
  ['', []],
])('%s', (line, expected) => {
  const read = readUsedParts(line);
  expect(read?.map(({ count, measure, part }) => [count, measure, part])).toEqual(expected);
});

test.each(['0 × ring', '5', '2 × ; ring', '3 7 rings', '10 ml'])(
  '%s says nothing that could be kept',
  (line) => {
    expect(readUsedParts(line)).toBeNull();
  },
);
