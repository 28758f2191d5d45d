const PARTS = /\d+|\D+/g;

/** Compares names as people count: 2 before 10. */
export function naturalOrder(a: string, b: string): number {
  const [one, other] = [a.match(PARTS) ?? [], b.match(PARTS) ?? []];
  for (const [i, part] of one.entries()) {
    const against = other[i];
    if (against === undefined) return 1;
    if (part === against) continue;
    const difference = Number(part) - Number(against);
    if (Number.isNaN(difference) || difference === 0) return part < against ? -1 : 1;
    return difference;
  }
  return one.length - other.length;
}
