import { gate } from '../gate.js';

/** Before whoever is not known: those signed in, and browsers that signed in before. */
export const FIRST = -1;
const WAITING = 64;
const MOST_ARRIVALS = 2 ** 32;

const turns = gate(1, WAITING);
let arrivals = 0;

/**
 * Hashes one password at a time in this process, for each takes 128 MiB and a processor for a moment; returns null where too
 * many wait. Who tried least goes first, and among equals who came last: in a flood of first tries, those before are the
 * flood.
 */
export function passwordTurn<T>(work: () => Promise<T>, tries: number): Promise<T | null> {
  arrivals += 1;
  return turns(work, tries * MOST_ARRIVALS - arrivals);
}
