/** A number that is said to foretell, with what then was. */
export interface Scored {
  readonly score: number;
  readonly isHit: boolean;
}

/**
 * Returns how often a hit has the greater score than a miss, over all pairs, ties counting half; NaN without both.
 * Source: the Mann–Whitney statistic over the number of pairs, which is the area under the ROC curve.
 */
export function shareRankedRight(scored: readonly Scored[]): number {
  const sorted = [...scored].sort((a, b) => a.score - b.score);
  let hits = 0;
  let misses = 0;
  let right = 0;
  for (let from = 0; from < sorted.length; ) {
    let to = from;
    let tiedHits = 0;
    while (to < sorted.length && sorted[to]!.score === sorted[from]!.score)
      if (sorted[to++]!.isHit) tiedHits++;
    const tiedMisses = to - from - tiedHits;
    right += tiedHits * (misses + tiedMisses / 2);
    hits += tiedHits;
    misses += tiedMisses;
    from = to;
  }
  return right / (hits * misses);
}
