import type { Instant } from '../units.js';

/** Who enters something, and when. */
export interface Entry {
  readonly by: string;
  readonly at: Instant;
  readonly why?: string;
}
