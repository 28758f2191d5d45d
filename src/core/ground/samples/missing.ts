/** Returns whether the column says nothing at all. */
export const isMissing = (column: Float64Array): boolean => firstKnown(column) < 0;

/** Returns whether any value of the column is missing. */
export function hasHole(column: Float64Array): boolean {
  for (let i = 0; i < column.length; i++) if (Number.isNaN(column[i]!)) return true;
  return false;
}

/** Returns the first place where the column says something, -1 where it never does. */
export function firstKnown(column: Float64Array): number {
  for (let i = 0; i < column.length; i++) if (!Number.isNaN(column[i]!)) return i;
  return -1;
}
