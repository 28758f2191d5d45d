import { type Heartbeat, LOOP_NAMES, type LoopPulse } from '../ports/loops.js';
import { MINUTE_MS, secondsIn } from '../units.js';

/** A loop that is so late with its next step has stopped. */
const LATEST_S = secondsIn(MINUTE_MS);
/** How often a process says how its loops are. */
export const HEARTBEAT_MS = MINUTE_MS / 2;
/** Several words missed. */
const SILENT_S = secondsIn(4 * HEARTBEAT_MS);

/** Whether a loop goes on as it should. */
export const isTurning = ({ runningS, sinceEndedS, pauseS, longestS }: LoopPulse): boolean =>
  runningS === null ? sinceEndedS !== null && sinceEndedS < pauseS + LATEST_S : runningS < longestS;

/** A loop of another process that nobody turns any more. Units: seconds. */
export interface StillLoop {
  readonly loop: string;
  readonly host: string;
  /** Since anything was heard of that process. */
  readonly silentS: number;
}

/**
 * Returns the loops that processes other than this one have left standing, each by who was heard of last. A loop goes on
 * when any process turns it for the same drop folder: whoever ended without a word was replaced.
 */
export function stillLoops(heartbeats: readonly Heartbeat[]): StillLoop[] {
  const turning = new Set<string>();
  const still = new Map<string, StillLoop & { readonly isOwn: boolean }>();
  for (const { host, isOwn, isGone, home, loops, silentS } of heartbeats) {
    for (const pulse of loops) {
      // An earlier version's loops are nobody's to turn.
      if (!(LOOP_NAMES as readonly string[]).includes(pulse.name)) continue;
      const key = `${home} ${pulse.name}`;
      if (!isGone && silentS < SILENT_S && isTurning(pulse)) turning.add(key);
      else if (silentS < (still.get(key)?.silentS ?? Number.POSITIVE_INFINITY))
        still.set(key, { loop: pulse.name, host, silentS, isOwn });
    }
  }
  return [...still]
    .filter(([key, { isOwn }]) => !turning.has(key) && !isOwn)
    .map(([, { loop, host, silentS }]) => ({ loop, host, silentS }));
}
