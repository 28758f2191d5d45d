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
