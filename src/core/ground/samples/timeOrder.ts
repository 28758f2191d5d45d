import { allRows } from './rows.js';

/**
 * Returns the positions in `keys` of the longest run of rising ones, strictly or not. So as few as possible are dropped
 * where a clock jumped back.
 * Shape: rising positions; all of them when the keys rise already.
 */
export function longestRising(
  keys: Float64Array,
  how: 'strictly' | 'never-falling' = 'strictly',
): Int32Array {
  const count = keys.length;
  const follows = how === 'strictly' ? (a: number, b: number) => a < b : (a: number, b: number) => a <= b;
  let rising = true;
  for (let i = 1; i < count && rising; i++) rising = follows(keys[i - 1]!, keys[i]!);
  if (rising) return allRows(count);

  // ends[k] is where the run of k+1 keys with the smallest last key ends; before[] leads back along it.
  const ends = new Int32Array(count);
  const before = new Int32Array(count);
  let length = 0;
  const firstNotBefore = (key: number): number => {
    let low = 0;
    let high = length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (follows(keys[ends[middle]!]!, key)) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  for (let i = 0; i < count; i++) {
    const at = firstNotBefore(keys[i]!);
    before[i] = at > 0 ? ends[at - 1]! : -1;
    ends[at] = i;
    if (at === length) length += 1;
  }
  const run = new Int32Array(length);
  for (let k = length - 1, i = length > 0 ? ends[length - 1]! : -1; k >= 0; k--) {
    run[k] = i;
    i = before[i]!;
  }
  return run;
}
