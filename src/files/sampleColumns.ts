import type { Samples } from '../core/ground/samples/recording.js';

/** A week of a point each second; a file of bytes that each stand for a point would fill the memory. */
export const MOST_SAMPLES = 600_000;

/** Thrown and caught in this folder alone: the file holds more points than any ride has. */
export class TooManySamples extends Error {}

/** Columns that grow while a file is read, so that no sample is ever an object of its own. */
export class SampleColumns {
  #count = 0;
  #effort: Float64Array[] | undefined;
  #columns: Float64Array[] = Array.from({ length: 6 }, () => new Float64Array(1024));
  readonly #most: number;

  constructor(most = MOST_SAMPLES) {
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
    eles[i] = eleM;
    dists[i] = distM;
    speeds[i] = speedMps;
    this.#count += 1;
  }

  /** Says what the rider did at the sample pushed last; columns are made for it once there is any. */
  pushEffort(heartBpm: number, cadenceRpm: number, powerW: number): void {
    if (Number.isNaN(heartBpm) && Number.isNaN(cadenceRpm) && Number.isNaN(powerW)) return;
    const size = this.#columns[0]!.length;
    this.#effort ??= [0, 1, 2].map(() => new Float64Array(size).fill(Number.NaN));
    for (const [at, value] of [heartBpm, cadenceRpm, powerW].entries())
      this.#effort[at]![this.#count - 1] = value;
  }

  /** Returns the samples as they were written, where they lie: nothing may be pushed afterwards. */
  samples(): Samples {
    const count = this.#count;
    const [timeMs, lat, lon, eleM, distM, speedMps] = this.#columns.map((column) =>
      column.subarray(0, count),
    );
    const effort = this.#effort?.map((column) => column.subarray(0, count));
    return {
      count,
      timeMs: timeMs!,
      lat: lat!,
      lon: lon!,
      eleM: eleM!,
      distM: distM!,
      speedMps: speedMps!,
      ...(effort && { effort: { heartBpm: effort[0]!, cadenceRpm: effort[1]!, powerW: effort[2]! } }),
    };
  }

  #grow(): void {
    const wider = (column: Float64Array): Float64Array => {
      const wide = new Float64Array(column.length * 2).fill(Number.NaN);
      wide.set(column);
      return wide;
    };
    this.#columns = this.#columns.map(wider);
    this.#effort = this.#effort?.map(wider);
  }
}
