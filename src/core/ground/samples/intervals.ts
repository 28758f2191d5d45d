/** Sets of moments as sorted, disjoint, half-open intervals. Units: milliseconds. */
export type Stretch = readonly [from: number, to: number];

/** Returns the union of any intervals, in any order, sorted and disjoint. */
export function unionOf(stretches: readonly Stretch[]): Stretch[] {
  const sorted = stretches.filter(([from, to]) => to > from).sort((a, b) => a[0] - b[0]);
  const union: [number, number][] = [];
  for (const [from, to] of sorted) {
    const last = union.at(-1);
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else union.push([from, to]);
  }
  return union;
}

/** Returns what of `stretches` lies outside `cut`. Shape: both sorted and disjoint. */
export function without(stretches: readonly Stretch[], cut: readonly Stretch[]): Stretch[] {
  const left: Stretch[] = [];
  let first = 0;
  for (const [from, to] of stretches) {
    while (first < cut.length && cut[first]![1] <= from) first++;
    let at = from;
    for (let i = first; i < cut.length && cut[i]![0] < to; i++) {
      if (cut[i]![0] > at) left.push([at, cut[i]![0]]);
      at = Math.max(at, cut[i]![1]);
    }
    if (at < to) left.push([at, to]);
  }
  return left;
}

export const lengthOf = (stretches: readonly Stretch[]): number =>
  stretches.reduce((sum, [from, to]) => sum + to - from, 0);
