import type { Samples } from '../core/ground/samples/recording.js';

/** A week of a point each second; a file of bytes that each stand for a point would fill the memory. */
export const MOST_SAMPLES = 600_000;

/** Thrown and caught in this folder alone: the file holds more points than any ride has. */
export class TooManySamples extends Error {}

const LEAST_SIZE = 1024;

/** Columns that grow while a file is read, so that no sample is ever an object of its own. */
export class SampleColumns {
  #count = 0;
  #size: number;
  #timeMs: Float64Array;
  #lat: Float64Array;
  #lon: Float64Array;
  #eleM: Float64Array;
  /** These are made once there is a value for them. */
  #distM: Float64Array | null = null;
  #speedMps: Float64Array | null = null;
  #effort: { heartBpm: Float64Array; cadenceRpm: Float64Array; powerW: Float64Array } | undefined;
  readonly #most: number;

  /** `likely` samples have room from the start: what of it is never written takes no memory. */
  constructor(most = MOST_SAMPLES, likely = 0) {
    this.#most = most;
    this.#size = Math.max(LEAST_SIZE, Math.min(MOST_SAMPLES, Math.ceil(likely)));
    this.#timeMs = new Float64Array(this.#size);
    this.#lat = new Float64Array(this.#size);
    this.#lon = new Float64Array(this.#size);
    this.#eleM = new Float64Array(this.#size);
  }

  /** Returns columns with room for what so many bytes of a format are likely to hold. */
  static for(bytes: Uint8Array, bytesASample: number): SampleColumns {
    return new SampleColumns(MOST_SAMPLES, bytes.length / bytesASample);
  }

  get count(): number {
    return this.#count;
  }

  push(timeMs: number, lat: number, lon: number, eleM: number, distM: number, speedMps: number): void {
    if (this.#count === this.#most) throw new TooManySamples();
    if (this.#count === this.#size) this.#grow();
    const i = this.#count;
    this.#timeMs[i] = timeMs;
    this.#lat[i] = lat;
    this.#lon[i] = lon;
    this.#eleM[i] = eleM;
    this.#count = i + 1;
    if (!Number.isNaN(distM)) {
      this.#distM ??= this.#open();
      this.#distM[i] = distM;
    }
    if (!Number.isNaN(speedMps)) {
      this.#speedMps ??= this.#open();
      this.#speedMps[i] = speedMps;
    }
  }

  /** Pushes time, place, elevation, distance, speed and what the rider did: one row instead of so many numbers. */
  pushRow(row: Float64Array): void {
    this.push(row[0]!, row[1]!, row[2]!, row[3]!, row[4]!, row[5]!);
    this.pushEffort(row[6]!, row[7]!, row[8]!);
  }

  /** Says what the rider did at the sample pushed last; columns are made for it once there is any. */
  pushEffort(heartBpm: number, cadenceRpm: number, powerW: number): void {
    if (Number.isNaN(heartBpm) && Number.isNaN(cadenceRpm) && Number.isNaN(powerW)) return;
    this.#effort ??= { heartBpm: this.#open(), cadenceRpm: this.#open(), powerW: this.#open() };
    const i = this.#count - 1;
    this.#effort.heartBpm[i] = heartBpm;
    this.#effort.cadenceRpm[i] = cadenceRpm;
    this.#effort.powerW[i] = powerW;
  }

  /** Returns the samples as they were written, where they lie: nothing may be pushed afterwards. */
  samples(): Samples {
    const count = this.#count;
    const effort = this.#effort;
    // Nothing is ever written into what nothing was said for, so one column stands for both.
    const missing = new Float64Array(this.#distM && this.#speedMps ? 0 : count).fill(Number.NaN);
    return {
      count,
      timeMs: this.#timeMs.subarray(0, count),
      lat: this.#lat.subarray(0, count),
      lon: this.#lon.subarray(0, count),
      eleM: this.#eleM.subarray(0, count),
      distM: this.#distM?.subarray(0, count) ?? missing,
      speedMps: this.#speedMps?.subarray(0, count) ?? missing,
      ...(effort && {
        effort: {
          heartBpm: effort.heartBpm.subarray(0, count),
          cadenceRpm: effort.cadenceRpm.subarray(0, count),
          powerW: effort.powerW.subarray(0, count),
        },
      }),
    };
  }

  /** A column that says nothing yet. */
  #open(): Float64Array {
    return new Float64Array(this.#size).fill(Number.NaN);
  }

  #grow(): void {
    this.#size *= 2;
    const wider = (column: Float64Array): Float64Array => {
      const wide = new Float64Array(this.#size);
      wide.set(column);
      return wide;
    };
    // A sample without a value is never written here.
    const open = (column: Float64Array): Float64Array => wider(column).fill(Number.NaN, this.#count);
    this.#timeMs = wider(this.#timeMs);
    this.#lat = wider(this.#lat);
    this.#lon = wider(this.#lon);
    this.#eleM = wider(this.#eleM);
    this.#distM &&= open(this.#distM);
    this.#speedMps &&= open(this.#speedMps);
    this.#effort &&= {
      heartBpm: open(this.#effort.heartBpm),
      cadenceRpm: open(this.#effort.cadenceRpm),
      powerW: open(this.#effort.powerW),
    };
  }
}
