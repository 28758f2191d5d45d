import type { Clock } from '../ports/clock.js';
import type { Tx } from '../ports/store.js';
import { type DoubtedClock, findClockDoubt } from './clockDoubt.js';
import { type StillLoop, stillLoops } from './stillLoops.js';

/** How the program is, as far as the store knows. */
export interface StoreHealth {
  /** The mails whose time has come and that wait. */
  readonly mails: Awaited<ReturnType<Tx['mails']['summary']>>;
  /** Loops that other processes left standing. */
  readonly still: readonly StillLoop[];
  /** Null where the clock is believed. */
  readonly doubt: DoubtedClock | null;
}

export const getStoreHealth = async (tx: Tx, clock: Clock): Promise<StoreHealth> => ({
  mails: await tx.mails.summary(clock.now()),
  still: stillLoops(await tx.heartbeats.list()),
  doubt: await findClockDoubt(tx, clock),
});
