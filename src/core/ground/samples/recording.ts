/** What a file reader hands to the core: one decoded recording, in columns. */

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

export interface Recording {
  readonly format: 'fit' | 'gpx';
  /** FIT profile names (`cycling`, `e_biking`, `running`, …); null where the file says nothing. */
  readonly sport: string | null;
  readonly subSport: string | null;
  readonly samples: Samples;
  /** In time order and without overlap; samples outside every span were recorded while stopped. */
  readonly spans: readonly Span[];
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
}
