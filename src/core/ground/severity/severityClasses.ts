import { SEVERITY_CLASSES } from '../samples/reading.js';

/** The range of raw severity. */
export const LOWEST = 0.2;
export const HIGHEST = 5;
const LOG_WIDTH = Math.log(HIGHEST / LOWEST) / SEVERITY_CLASSES;

/** Returns the severity that a class stands for, the middle of it in logarithms. */
export const severityOfClass = (index: number): number => LOWEST * Math.exp((index + 0.5) * LOG_WIDTH);

/**
 * Returns moving seconds by class of raw severity. Each stretch is shared between the two classes nearest to it. So the
 * mean logarithm is that of the stretches, and no ride jumps at a class bound.
 * Shape: 16 whole numbers that add up to the rounded sum of the stretches.
 */
export function secondsByClass(
  stretches: readonly { readonly movingS: number; readonly severity: number }[],
): number[] {
  const exact = new Array<number>(SEVERITY_CLASSES).fill(0);
  for (const { movingS, severity } of stretches) {
    const place = Math.log(severity / LOWEST) / LOG_WIDTH - 0.5;
    const at = Math.min(SEVERITY_CLASSES - 1, Math.max(0, place));
    const lower = Math.min(SEVERITY_CLASSES - 2, Math.floor(at));
    exact[lower]! += movingS * (lower + 1 - at);
    exact[lower + 1]! += movingS * (at - lower);
  }
  return wholeNumbers(exact);
}

/** Rounds by largest remainder, so that the whole numbers add up to the rounded sum. */
function wholeNumbers(exact: readonly number[]): number[] {
  const whole = exact.map(Math.floor);
  const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
  const missing = Math.round(sum(exact)) - sum(whole);
  const byRemainder = exact
    .map((value, index) => ({ index, remainder: value - Math.floor(value) }))
    .sort((a, b) => b.remainder - a.remainder || a.index - b.index);
  for (const { index } of byRemainder.slice(0, Math.max(0, missing))) whole[index]! += 1;
  return whole;
}
