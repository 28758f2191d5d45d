import type { Instant, Seconds } from '../../../units.js';
import type { ReadingQuestion, RideFormat } from '../../tokens.js';
import type { HeightEvidence } from './heightEvidence.js';
import type { Landings } from './landings.js';
import type { PlaceMarks } from './placeMarks.js';
import type { Note, RecorderWords, Sensor } from './recording.js';

/** Raised when a change here would give other figures from the same file. */
export const READER_VERSION = 6;

/** A stretch of moving, in milliseconds since the reading's start, half open. */
export type MovingInterval = readonly [fromMs: number, toMs: number];

/** How many severity classes there are; their bounds are 0.2 · 25^(i/16). */
export const SEVERITY_CLASSES = 16;

/**
 * What elevation and witnesses say of the ground, before any prior or weight.
 * `classS` holds moving seconds by class of raw severity; without usable elevation all are zero and quality is null.
 * Source: the estimator of core/severity.ts.
 */
export interface Terrain {
  readonly classS: readonly number[];
  /** Q, 0 to 1; below 0.4 is poor; null without elevation. */
  readonly quality: number | null;
  /** W: 1, ½ or 0 for two, one or no witness. */
  readonly witnessWeight: number;
  /** u, the mean logarithm of the witnesses; 0 without any. */
  readonly witness: number;
  /** γ, change of gradient (a pure number, 0.02 is 2 %), and σ, noise in metres. */
  readonly gradientChange: number | null;
  readonly noiseM: number | null;
  /** What the file itself shows of the error of its heights; left out without elevation, and by readers before. */
  readonly heights?: HeightEvidence;
  /** Measured, not estimated; left out where the recorder does not record them. */
  readonly landings?: Landings;
}

/**
 * A stretch upward of a day on which not all of them may have been ridden: on a lift, in a vehicle, or by bike.
 * Units: milliseconds since the reading's start, metres, beats and turns a minute, watts.
 */
export interface Climb {
  readonly fromMs: number;
  readonly toMs: number;
  readonly upM: number;
  readonly wayM: number;
  readonly moving: readonly MovingInterval[];
  readonly classS: readonly number[];
  /** That it was not ridden, 0 to 1: by a rider alone, and with a motor that helps. */
  readonly chance: number;
  readonly motorChance: number;
  /** Whether `moving` and `terrain` of the reading hold it. */
  readonly isIn: boolean;
  readonly heartBpm: number | null;
  readonly cadenceRpm: number | null;
  readonly powerW: number | null;
}

/** A point of the profile by distance; no positions. Units: metres; severity null where unknown. */
export interface ProfilePoint {
  readonly distanceM: number;
  readonly elevationM: number | null;
  readonly severity: number | null;
}

/** What a recording said, once and for all: all that later questions need, so that no file is opened again. */
export interface Reading {
  readonly readerVersion: number;
  readonly format: RideFormat;
  /** Null only where the file has no times. */
  readonly start: Instant | null;
  readonly end: Instant | null;
  readonly sport: string | null;
  readonly subSport: string | null;
  /** Indoor and virtual rides are kept, and never count for a unit. */
  readonly indoor: boolean;
  readonly damage: 'cut-off' | 'checksum' | null;
  readonly elapsedS: Seconds;
  /** Without lifts, gaps and a doubtful vehicle. */
  readonly movingS: Seconds;
  readonly distanceM: number;
  readonly ascentM: number | null;
  readonly descentM: number | null;
  readonly moving: readonly MovingInterval[];
  readonly terrain: Terrain;
  /** The part that may have been in a vehicle; not in `moving` and `terrain`, counts only after a person says so. */
  readonly doubtful: {
    readonly moving: readonly MovingInterval[];
    readonly classS: readonly number[];
  } | null;
  readonly leftOut: readonly { readonly code: 'lift' | 'gap' | 'vehicle'; readonly s: Seconds }[];
  /** Left out where all upward surely was ridden. */
  readonly climbs?: readonly Climb[];
  /** Heights by even steps of time, where there are climbs to show. Units: seconds, metres; null where unknown. */
  readonly heights?: { readonly everyS: number; readonly eleM: readonly (number | null)[] };
  readonly spans: number;
  readonly samples: number;
  /** At most 600 points. */
  readonly profile: readonly ProfilePoint[];
  /** Recognises the same track in the same direction without holding it; see core/sketch.ts. Null without positions. */
  readonly sketch: readonly number[] | null;
  readonly sensors: readonly Sensor[];
  readonly notes: readonly Note[];
  /** Null where the format does not say it. */
  readonly recorder: RecorderWords | null;
  readonly question: ReadingQuestion | null;
  /** Where it was, minute by minute, under a key; kept apart from the rest, because it has to go when the original goes. */
  readonly marks?: PlaceMarks;
}

/** All that hours, rides and questions are made of: a profile is only shown, and is most of a reading. */
export type ReadingSaid = Omit<Reading, 'profile'>;

/** A reading as it is kept: its profile is text, which nobody takes apart on its way from the file to a page. */
export interface KeptReading extends ReadingSaid {
  readonly profile: string;
}

export const keptReading = (reading: Reading): KeptReading => ({
  ...reading,
  profile: JSON.stringify(reading.profile),
});
