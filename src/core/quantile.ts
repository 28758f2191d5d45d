/** Returns the value below which a share of the values lies, without interpolation; NaN of none. */
export function quantile(values: Float64Array, share: number): number {
  if (values.length === 0) return Number.NaN;
  return values.slice().sort()[Math.floor(share * (values.length - 1))]!;
}

/** Returns all columns as one. */
export function joined(columns: readonly Float64Array[]): Float64Array {
  const all = new Float64Array(columns.reduce((sum, column) => sum + column.length, 0));
  let at = 0;
  for (const column of columns) {
    all.set(column, at);
    at += column.length;
  }
  return all;
}
