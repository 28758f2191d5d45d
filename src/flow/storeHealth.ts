import type { Clock } from '../ports/clock.js';
import type { Tx } from '../ports/store.js';
import type { Instant } from '../units.js';
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
  /** The drop folder where it is gone or was emptied, since when; null where all is well with it. */
  readonly folder: { readonly isMissing: boolean; readonly seenAt: Instant } | null;
  /** Since when the file in it waits that has waited longest and is still tried. */
  readonly oldestUntaken: Instant | null;
  /** Whether a newer program has changed the tables. */
  readonly isNewer: boolean;
}

export const getStoreHealth = async (tx: Tx, clock: Clock): Promise<StoreHealth> => ({
  mails: await tx.mails.summary(clock.now()),
  still: stillLoops(await tx.heartbeats.list()),
  doubt: await findClockDoubt(tx, clock),
  folder: await folderFault(tx),
  oldestUntaken: await tx.inbox.oldestUntaken(),
  isNewer: await tx.derived.isNewer(),
});

async function folderFault(tx: Tx): Promise<StoreHealth['folder']> {
  const row = await tx.inbox.find('');
  if (row === undefined) return null;
  return { isMissing: row.code === 'folder-missing', seenAt: row.seenAt };
}
