/** How many files are still to be read, wherever they are read: for whoever waits for them. */
import type { LoopPulse } from '../../ports/loops.js';
import type { Tx } from '../../ports/store.js';
import { MINUTE_MS, secondsIn } from '../../units.js';

/** A command that takes files says so by this name beside the lanes' own; nobody waits for it to turn again. */
const COMMAND = 'take';
const READING = ['folder', COMMAND] as const;

/** Fewer are read before anybody has read that. */
const MANY = 20;
/** Who said nothing for so long has ended. */
const SILENT_S = secondsIn(2 * MINUTE_MS);

export type FilesLeft = Readonly<Record<(typeof READING)[number], number>>;

/** Returns how many are left in drop folders, and of commands; `own` are the lanes of this process, who know it best. */
export async function findFilesLeft(tx: Tx, own: readonly LoopPulse[]): Promise<FilesLeft> {
  const others = (await tx.heartbeats.list()).filter(
    ({ isOwn, isGone, silentS }) => !isOwn && !isGone && silentS < SILENT_S,
  );
  const pulses = [...own, ...others.flatMap(({ loops }) => loops)];
  const leftOf = (name: string): number => {
    const sum = pulses.filter((one) => one.name === name).reduce((all, { left }) => all + (left ?? 0), 0);
    return sum < MANY ? 0 : sum;
  };
  return { folder: leftOf('folder'), take: leftOf(COMMAND) };
}

/** Says how many files a command has still to take; none once it has ended. */
export async function sayFilesLeft(tx: Tx, left: number | null): Promise<void> {
  if (left === null) return tx.heartbeats.remove();
  await tx.heartbeats.put([
    {
      ...{ name: COMMAND, left, doing: 'taking files', why: null, failedInARow: 0 },
      ...{ runningS: 0, sinceEndedS: null, pauseS: 0, longestS: 0 },
    },
  ]);
}
