import type { Clock, Log, Mailer, Originals, RideReader, Store } from '../ports.js';

/** What the steps of the story are given. */
export interface Deps {
  readonly store: Store;
  readonly clock: Clock;
  readonly reader: RideReader;
  readonly originals: Originals;
  readonly mailer: Mailer;
  readonly log: Log;
}
