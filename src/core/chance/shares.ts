/** Shares of things counted, and whether two of them differ. */
import { normalQuantile } from './normalQuantile.js';

/** How many of how many. */
export interface Counted {
  readonly hits: number;
  readonly of: number;
}

/** A share with where it lies eight times of ten; other ranges are asked for. */
export interface ShareRange {
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

const EIGHT_OF_TEN = 0.8;

/**
 * Returns a share with its range, which stays between none and all. Shape: of at least one.
 * Source: E. B. Wilson 1927, Journal of the American Statistical Association 22, the score interval.
 */
export function shareRange({ hits, of }: Counted, within = EIGHT_OF_TEN): ShareRange {
  const z = normalQuantile((1 + within) / 2);
  const share = hits / of;
  const middle = share + z ** 2 / (2 * of);
  const half = z * Math.sqrt((share * (1 - share)) / of + z ** 2 / (4 * of ** 2));
  const scale = 1 + z ** 2 / of;
  return {
    share,
    low: hits === 0 ? 0 : (middle - half) / scale,
    high: hits === of ? 1 : (middle + half) / scale,
  };
}

/**
 * Returns by how much the first share is greater than the second, with its range.
 * Source: R. G. Newcombe 1998, Statistics in Medicine 17, 873 to 890, method 10.
 */
export function shareDifference(first: Counted, second: Counted, within = EIGHT_OF_TEN): ShareRange {
  const [a, b] = [shareRange(first, within), shareRange(second, within)];
  const share = a.share - b.share;
  return {
    share,
    low: share - Math.hypot(a.share - a.low, b.high - b.share),
    high: share + Math.hypot(a.high - a.share, b.share - b.low),
  };
}
