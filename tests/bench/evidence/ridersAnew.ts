import { seededRandom } from '../../../src/core/chance/seededRandom.js';

const DRAWS = 400;

/** A figure of riders who weigh the same, its 95 % interval over riders drawn anew, and how many riders there are. */
export interface Figure {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly riders: number;
}

/** One value of a rider's. */
interface Measured {
  readonly rider: string;
  readonly value: number;
}

/** Values in rising order, each with its rider's place and its part in that rider. */
interface Sorted {
  readonly values: Float64Array;
  readonly riderOf: Int32Array;
  readonly weights: Float64Array;
  readonly riders: number;
}

const sortedOf = (all: readonly Measured[]): Sorted => {
  const places = new Map<string, number>();
  const counts: number[] = [];
  for (const { rider } of all) {
    const place = places.get(rider) ?? places.size;
    places.set(rider, place);
    counts[place] = (counts[place] ?? 0) + 1;
  }
  const rising = [...all].sort((a, b) => a.value - b.value);
  const riderOf = Int32Array.from(rising, ({ rider }) => places.get(rider)!);
  return {
    values: Float64Array.from(rising, ({ value }) => value),
    riderOf,
    weights: Float64Array.from(riderOf, (place) => 1 / counts[place]!),
    riders: places.size,
  };
};

/** `times` says how often each rider was drawn. */
type Statistic = (of: Sorted, times: ArrayLike<number>) => number;

const mean: Statistic = ({ values, riderOf, weights, riders }, times) =>
  values.reduce((sum, value, i) => sum + value * weights[i]! * times[riderOf[i]!]!, 0) / riders;

const quantile =
  (share: number): Statistic =>
  ({ values, riderOf, weights, riders }, times) => {
    let sum = 0;
    for (let i = 0; i < values.length; i++) {
      sum += weights[i]! * times[riderOf[i]!]!;
      if (sum >= share * riders - 1e-9) return values[i]!;
    }
    return Number.NaN;
  };

const figureBy =
  (statistic: Statistic) =>
  (all: readonly Measured[]): Figure => {
    const sorted = sortedOf(all);
    const { riders } = sorted;
    const random = seededRandom('riders drawn anew');
    const drawn = Array.from({ length: DRAWS }, () => {
      const times = new Int32Array(riders);
      for (let i = 0; i < riders; i++) times[Math.floor(random() * riders)]! += 1;
      return statistic(sorted, times);
    }).sort((a, b) => a - b);
    return {
      value: statistic(sorted, new Int32Array(riders).fill(1)),
      low: drawn[Math.floor(0.025 * DRAWS)]!,
      high: drawn[Math.floor(0.975 * DRAWS)]!,
      riders,
    };
  };

export const meanFigure = figureBy(mean);
export const medianFigure = figureBy(quantile(0.5));
export const quantileFigure = (share: number): ((all: readonly Measured[]) => Figure) =>
  figureBy(quantile(share));
