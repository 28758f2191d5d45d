import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { BUILT } from './fixtures/program.js';

/** Keeps the last 200 000 of 3 000 000 small things in hand, and prints the most memory that they took. Units: bytes. */
const CHURN = `
  const kept = [];
  let peak = 0;
  for (let i = 0; i < 3_000_000; i++) {
    kept[i % 200_000] = { i, text: [i, i, i, i, i, i] };
    if (i % 1000 === 0) peak = Math.max(peak, process.memoryUsage().heapUsed);
  }
  console.log(peak);`;
const peakOf = (before: string): number =>
  Number(
    execFileSync(process.execPath, ['--input-type=module', '--eval', before + CHURN], { encoding: 'utf8' }),
  );

it('the heap does not grow to a multiple of what is in use', () => {
  const url = JSON.stringify(join(BUILT, 'src/boundHeap.js'));
  const bound = peakOf(`import { boundHeap } from ${url}; boundHeap();`);
  expect(bound / peakOf('')).toBeLessThan(0.75);
});
