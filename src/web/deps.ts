import type { Clock, Log, Store } from '../ports.js';

/** What the pages are given. */
export interface WebDeps {
  readonly store: Store;
  readonly clock: Clock;
  readonly log: Log;
  /** Signs what pages hand out. */
  readonly secret: Uint8Array;
  /** The address that people use, where it is not the one listened on; HTTPS turns on what needs it. */
  readonly publicUrl: string | null;
}
