import type { Day, Instant } from '../units.js';

/** Backups that the program makes by itself, one a day. */
export interface Backups {
  /** Days of which there is one, in order. Errors: ServiceError `disk-failed`. */
  list(): Promise<readonly Day[]>;
  /** Makes the one of a day; it has its name only once it is verified. Errors: ServiceError, as what went wrong has it. */
  make(day: Day, now: Instant): Promise<void>;
  remove(day: Day): Promise<void>;
}
