import type { KeptReading } from '../core/ground/samples/reading.js';
import type { Recording } from '../core/ground/samples/recording.js';
import type { Problem } from '../problems.js';
import type { Instant } from '../units.js';
import type { FileRow } from './files.js';

/** What a file says; the problem is null where there is a ride in it. */
export interface Decoded {
  readonly readings: readonly KeptReading[];
  readonly outcome: FileRow['outcome'];
  readonly problem: Problem | null;
}

/** A file to be decoded. A large one's bytes go with it and are gone afterwards. */
export interface DecodeFile {
  readonly bytes: Uint8Array;
  readonly name: string;
  /** Under which its places are marked; left out: they are not. */
  readonly placeKey?: string;
  /** Whose turn it is: who sends many files waits for nobody else's, and nobody else for theirs. */
  readonly owner?: string;
  /** Told how long the decoding itself took. Units: milliseconds. */
  readonly took?: (ms: number) => void;
}

export interface RideReader {
  /** Decodes what a file holds, by its content and never by its name; whatever it does to the decoder is a problem of its own. */
  decode(file: DecodeFile, now: Instant): Promise<Decoded>;
  /**
   * Yields the file at a path, or the files in it where it is an archive, one at a time.
   * Errors: ServiceError `disk-failed`.
   */
  open(path: string, name: string): AsyncIterable<FileMember>;
  /** Whether it is worth keeping and decoding; false for a photo and other things that lie beside rides. */
  mayBeRide(file: { readonly bytes: Uint8Array; readonly name: string }): boolean;
  /** Whether the file is there to its end by its own format; false for what has no end of its own. */
  isWhole(path: string): Promise<boolean>;
}

export type FileMember =
  | { readonly name: string; readonly bytes: Uint8Array }
  | { readonly name: string; readonly problem: Problem };

export type FileContent =
  | { readonly recordings: readonly Recording[] }
  | { readonly problem: Problem; readonly outcome: 'no-ride' | 'set-aside' };
