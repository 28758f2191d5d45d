/**
 * What became of the heights where a way was ridden again: ground comes again with place, error does not.
 * Units: metres that could be compared; the share of V at the reference lag that did not come again, 0 to 1; seconds.
 */
export interface HeightsAgain {
  readonly wayM: number;
  readonly errorShare: number;
  /** How late the recorder writes a height: with this delay the passes agree best. */
  readonly delayS: number;
}

/** By how much heights moved while the bike stood. Units: seconds in which it was seen; metres in 10 s. */
export interface HeightsAtRest {
  readonly restS: number;
  readonly changeM: number;
}

/**
 * What a file itself shows of how far its heights can be trusted.
 * Units: `variance` is V at the reference lag, ground and error together, in square metres.
 */
export interface HeightEvidence {
  readonly variance: number;
  readonly again: HeightsAgain | null;
  readonly rest: HeightsAtRest | null;
}
