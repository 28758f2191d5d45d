import type { PhotoFault } from '../core/tokens.js';

/** Keeps each file once, by its content. */
export interface Originals {
  /** Returns the SHA-256 in hex; the file is on disk when it returns. */
  keep(bytes: Uint8Array): Promise<string>;
}

/** The files that are kept, by their hashes. */
export interface KeptOriginals {
  list(): Promise<readonly string[]>;
  /** Null where it is there no more. Errors: ServiceError `disk-failed`. */
  read(sha256: string): Promise<Uint8Array | null>;
  /** One that is not there is no fault. Errors: ServiceError `disk-failed`. */
  remove(sha256: string): Promise<void>;
}

/** A photograph as it is kept: encoded anew, with nothing of the file that was sent but what can be seen. */
export interface MadePhoto {
  readonly width: number;
  readonly height: number;
  /** JPEG, as the one below. */
  readonly picture: Uint8Array;
  /** For a page that shows many. */
  readonly small: Uint8Array;
}

export interface PhotoMaker {
  /** Makes a photograph of whatever bytes somebody sent; what is none is told as a fault. */
  make(bytes: Uint8Array): Promise<MadePhoto | PhotoFault>;
}

/** The photographs that are kept, by the hashes of their content. */
export interface PhotoFiles extends Originals, KeptOriginals {
  /** Those that nobody wrote, kept again or brought here for so long, by the clock of the machine. */
  listUntouched(ms: number): Promise<readonly string[]>;
  /** Whether a file is what it was when it was kept. Errors: ServiceError `disk-failed`. */
  look(sha256: string): Promise<FileLook>;
}

export type FileLook = 'whole' | 'missing' | 'damaged';
