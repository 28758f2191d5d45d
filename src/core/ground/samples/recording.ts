/** What a file reader hands to the core: one decoded recording, in columns. */

import type { RideFormat } from '../../tokens.js';

/**
 * Samples in the order of the file, a column each; a missing value is NaN.
 * Units: timeMs milliseconds since 1970 UTC; lat, lon degrees WGS-84; eleM, distM metres; speedMps m/s.
 */
export interface Samples {
  readonly count: number;
  readonly timeMs: Float64Array;
  readonly lat: Float64Array;
  readonly lon: Float64Array;
  readonly eleM: Float64Array;
  readonly distM: Float64Array;
  readonly speedMps: Float64Array;
  /** Left out where nothing of it was recorded. */
  readonly effort?: Effort;
}

/** What the rider did, a column each beside the samples. Units: beats and turns a minute, watts. */
export interface Effort {
  readonly heartBpm: Float64Array;
  readonly cadenceRpm: Float64Array;
  readonly powerW: Float64Array;
}

/** A stretch without a stop of the recorder. Shape: sample indexes, half open. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** A sensor that the recorder named. `boundTo` says whose it is: a heart strap goes with the rider. */
export interface Sensor {
  /** Serial or radio number as text, with its kind before it: `speed:12345`. */
  readonly id: string;
  readonly boundTo: 'bike' | 'rider' | 'unknown';
}

/** A peculiarity that was seen and handled, with how often. */
export interface Note {
  readonly code: string;
  readonly count: number;
}

/** A jump as the recorder measured it. Units: milliseconds since 1970, seconds, metres; null where it does not say. */
export interface Jump {
  readonly atMs: number;
  readonly hangS: number | null;
  readonly distanceM: number | null;
}

/** What a motor told the recorder: in how many samples it did, in how many it helped, and its battery in percent. */
export interface Motor {
  readonly samples: number;
  readonly assisted: number;
  readonly batteryFrom: number | null;
  readonly batteryTo: number | null;
}

/** What a recorder says of itself and of the ride beside its samples. */
export interface RecorderWords {
  /** The name of the profile that the rider chose on it. */
  readonly profileName: string | null;
  /** Its local time less UTC. Units: milliseconds. */
  readonly localOffsetMs: number | null;
  /** Null where it does not count jumps. */
  readonly jumpCount: number | null;
  readonly jumps: readonly Jump[];
  readonly motor: Motor | null;
}

/** A sport's part of a recording, as its recorder summed it up. Units: milliseconds since 1970, seconds, metres. */
export interface SportSession {
  readonly startMs: number;
  readonly sport: string | null;
  readonly subSport: string | null;
  readonly elapsedS: number | null;
  readonly timerS: number | null;
  readonly distanceM: number | null;
}

/** The recorder's timer was started, or stopped. Units: milliseconds since 1970. */
export interface TimerEvent {
  readonly atMs: number;
  readonly running: boolean;
}

export interface Recording {
  readonly format: RideFormat;
  /** FIT profile names (`cycling`, `e_biking`, `running`, …); null where the file says nothing. */
  readonly sport: string | null;
  readonly subSport: string | null;
  readonly samples: Samples;
  /** In time order and without overlap; samples outside every span were recorded while stopped. */
  readonly spans: readonly Span[];
  /** Written after a stop that no start follows: riding, or a recorder that went on in the car. Left out: none. */
  readonly unstarted?: readonly Span[];
  /** What kept the file from being read whole, if anything. */
  readonly damage: 'cut-off' | 'checksum' | null;
  readonly sensors: readonly Sensor[];
  /** What the recorder claims of itself: to compare with, never the truth. Units: seconds, metres. */
  readonly claims: {
    readonly elapsedS: number | null;
    readonly timerS: number | null;
    readonly distanceM: number | null;
  };
  readonly notes: readonly Note[];
  /** Left out by formats that do not say it. */
  readonly recorder?: RecorderWords;
  /** The recorder's serial number, which leaves the reader only under a key. */
  readonly serial?: string;
}
