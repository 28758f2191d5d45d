import type { Instant } from '../units.js';

/** Who entered what a command enters. */
export const BY_COMMAND = 'command line';

/** Who enters something, and when. */
export interface Entry {
  readonly by: string;
  readonly at: Instant;
  readonly why?: string;
}

/** By an id, for a name may have to be forgotten. */
const RIDER = 'rider ';
export const byRider = (riderId: string): string => RIDER + riderId;
/** Returns which rider entered something; null where it was somebody else. */
export const riderOf = (by: string): string | null => (by.startsWith(RIDER) ? by.slice(RIDER.length) : null);
