import type { Samples } from '../core/ground/samples/recording.js';
import type { NoteCounter } from '../core/ground/samples/notes.js';

/** No ground outside these lies under a bicycle; a FIT file's lowest number, -500 m, is a sensor that says nothing. */
const LOWEST_M = -500;
const HIGHEST_M = 10_000;
/** Far beyond any counter in any unit of its own: a field whose type holds everything can say anything. */
const FASTEST_MPS = 100_000;
const FARTHEST_M = 10_000_000_000;

/** A week of a point each second; a file of bytes that each stand for a point would fill the memory. */
export const MOST_SAMPLES = 600_000;

/** Thrown and caught in this folder alone: the file holds more points than any ride has. */
export class TooManySamples extends Error {}

/** Columns that grow while a file is read, so that no sample is ever an object of its own. */
export class SampleColumns {
  #count = 0;
  #columns: Float64Array[] = Array.from({ length: 6 }, () => new Float64Array(1024));
  readonly #notes: NoteCounter;
  readonly #most: number;

  constructor(notes: NoteCounter, most = MOST_SAMPLES) {
    this.#notes = notes;
    this.#most = most;
  }

  get count(): number {
    return this.#count;
  }

  push(timeMs: number, lat: number, lon: number, eleM: number, distM: number, speedMps: number): void {
    if (this.#count === this.#most) throw new TooManySamples();
    if (this.#count === this.#columns[0]!.length) this.#grow();
    const i = this.#count;
    const [times, lats, lons, eles, dists, speeds] = this.#columns as [
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    times[i] = timeMs;
    lats[i] = lat;
    lons[i] = lon;
    eles[i] = this.#elevation(eleM);
    dists[i] = this.#atLeastZero(distM, FARTHEST_M, 'distance-out-of-range');
    speeds[i] = this.#atLeastZero(speedMps, FASTEST_MPS, 'speed-out-of-range');
    this.#count += 1;
  }

  /** Returns the samples at these rows, in their order; all of them without `rows`. */
  samples(rows?: ArrayLike<number>): Samples {
    const count = rows?.length ?? this.#count;
    const pick = (column: Float64Array): Float64Array => {
      if (rows === undefined) return column.slice(0, count);
      const out = new Float64Array(count);
      for (let i = 0; i < count; i += 1) out[i] = column[rows[i]!]!;
      return out;
    };
    const [timeMs, lat, lon, eleM, distM, speedMps] = this.#columns.map(pick);
    return {
      count,
      timeMs: timeMs!,
      lat: lat!,
      lon: lon!,
      eleM: eleM!,
      distM: distM!,
      speedMps: speedMps!,
    };
  }

  /** The time column so far. Units: milliseconds since 1970 UTC. */
  times(): Float64Array {
    return this.#columns[0]!.subarray(0, this.#count);
  }

  #elevation(eleM: number): number {
    if (eleM > LOWEST_M && eleM < HIGHEST_M) return eleM;
    if (!Number.isNaN(eleM)) this.#notes.add('elevation-out-of-range');
    return Number.NaN;
  }

  #atLeastZero(value: number, below: number, code: 'distance-out-of-range' | 'speed-out-of-range'): number {
    if (value >= 0 && value < below) return value;
    if (!Number.isNaN(value)) this.#notes.add(code);
    return Number.NaN;
  }

  #grow(): void {
    this.#columns = this.#columns.map((column) => {
      const wider = new Float64Array(column.length * 2);
      wider.set(column);
      return wider;
    });
  }
}

/** Returns a stretch of samples, sharing their memory. */
export function sliceSamples(samples: Samples, from: number, to: number): Samples {
  const cut = (column: Float64Array): Float64Array => column.subarray(from, to);
  return {
    count: to - from,
    timeMs: cut(samples.timeMs),
    lat: cut(samples.lat),
    lon: cut(samples.lon),
    eleM: cut(samples.eleM),
    distM: cut(samples.distM),
    speedMps: cut(samples.speedMps),
  };
}
