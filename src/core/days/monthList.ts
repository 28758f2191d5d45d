/** Returns months typed as `4-10` or `11-2,5`, in rising order; null where that is none. Empty: all of the year. */
export function monthsIn(text: string): number[] | null {
  const parts = text
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
  if (parts.length === 0) return Array.from({ length: 12 }, (_, i) => i + 1);
  const months = new Set<number>();
  for (const part of parts) {
    const [, from, to = from] = /^(\d{1,2})(?: ?[-–] ?(\d{1,2}))?$/.exec(part) ?? [];
    const [first, last] = [Number(from), Number(to)];
    const isMonth = (month: number): boolean => month >= 1 && month <= 12;
    if (!isMonth(first) || !isMonth(last)) return null;
    // November to February goes over the turn of the year.
    for (let i = 0; i <= (last - first + 12) % 12; i++) months.add(((first - 1 + i) % 12) + 1);
  }
  return [...months].sort((a, b) => a - b);
}
