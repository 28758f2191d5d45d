import type { Instant } from '../units.js';

/** Who enters something, and when. */
/** Who entered what a command enters. */
export const BY_COMMAND = 'command line';

export interface Entry {
  readonly by: string;
  readonly at: Instant;
  readonly why?: string;
}
