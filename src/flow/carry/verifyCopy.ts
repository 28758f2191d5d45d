import type { SayLeft } from '../../ports/loops.js';
import type { Store } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { deriveAnew } from '../facts/deriveAnew.js';
import { checkLedger } from './checkLedger.js';

/** Returns what is wrong in a copy of a store; one that an earlier program derived is brought up to date first. */
export async function verifyCopy(store: Store, now: Instant, told?: SayLeft): Promise<readonly string[]> {
  await deriveAnew({ store, clock: { now: () => now } });
  return (await checkLedger(store, undefined, told)).faults;
}
