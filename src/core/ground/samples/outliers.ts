const FITS = 0;
const ABSENT = 1;
/** It lies apart, and what follows returns to where things were. */
export const APART = 2;
/** From here on values are elsewhere: they agree with one another, not with what was before. */
export const MOVED = 3;

/** So many values that agree with one another elsewhere are believed. */
const BELIEVED = 5;

/**
 * Returns for each value whether it fits the ones before it. A few that lie apart are an error of the receiver; five
 * in a row that agree with one another mean that it had lost its place before, or found it again.
 * `begins[i]` 1 starts anew; `agrees(a, b)` says whether value b may follow value a.
 */
export function findOutliers(
  begins: Uint8Array,
  values: Float64Array,
  agrees: (a: number, b: number) => boolean,
): Uint8Array {
  const verdicts = new Uint8Array(values.length);
  let last = -1;
  let elsewhere: number[] = [];
  for (let i = 0; i < values.length; i++) {
    if (begins[i] === 1) {
      last = -1;
      elsewhere = [];
    }
    if (Number.isNaN(values[i]!)) {
      verdicts[i] = ABSENT;
    } else if (last < 0 || agrees(last, i)) {
      last = i;
      if (elsewhere.length > 0) elsewhere = [];
    } else {
      if (elsewhere.length > 0 && !agrees(elsewhere.at(-1)!, i)) elsewhere = [];
      elsewhere.push(i);
      verdicts[i] = APART;
      if (elsewhere.length === BELIEVED) {
        for (const at of elsewhere) verdicts[at] = FITS;
        verdicts[elsewhere[0]!] = MOVED;
        last = i;
        elsewhere = [];
      }
    }
  }
  return verdicts;
}
