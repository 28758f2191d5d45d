/** Returns the value below which a share of the values lies, without interpolation; NaN of none. Shape: no value NaN. */
export function quantile(values: Float64Array, share: number): number {
  if (values.length === 0) return Number.NaN;
  return nthSmallest(values.slice(), Math.floor(share * (values.length - 1)));
}

/** Returns the value that would stand there if they were sorted; their order is lost. Source: Hoare's selection. */
export function nthSmallest(values: Float64Array, n: number): number {
  let from = 0;
  let to = values.length - 1;
  while (from < to) {
    const pivot = medianOfThree(values[from]!, values[(from + to) >> 1]!, values[to]!);
    let low = from;
    let high = to;
    while (low <= high) {
      while (values[low]! < pivot) low += 1;
      while (values[high]! > pivot) high -= 1;
      if (low > high) break;
      const swapped = values[low]!;
      values[low++] = values[high]!;
      values[high--] = swapped;
    }
    // Between `high` and `low` all values are the pivot's.
    if (n <= high) to = high;
    else if (n >= low) from = low;
    else return pivot;
  }
  return values[n]!;
}

const medianOfThree = (a: number, b: number, c: number): number =>
  Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));

/** Returns all columns as one; a single one as it is. */
export function joined(columns: readonly Float64Array[]): Float64Array {
  if (columns.length === 1) return columns[0]!;
  const all = new Float64Array(columns.reduce((sum, column) => sum + column.length, 0));
  let at = 0;
  for (const column of columns) {
    all.set(column, at);
    at += column.length;
  }
  return all;
}
