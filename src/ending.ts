import type { Log } from './ports/log.js';
import type { LoopPulse } from './ports/loops.js';

/** Whoever stops a service waits for seconds, not minutes. Units: milliseconds. */
const LONGEST_END_MS = 4500;

/** Resolves when the process is asked to end. */
export const untilAskedToStop = (): Promise<void> =>
  new Promise((resolve) => {
    process.once('SIGTERM', resolve);
    process.once('SIGINT', resolve);
  });

/**
 * Ends the process after some seconds, whatever hangs. What was begun is then left for the next start, as after a power
 * cut: nothing is marked as done before it is.
 */
export function endWithin(log: Log, loops: () => readonly LoopPulse[]): void {
  const leave = (): void => {
    const left = loops()
      .filter(({ runningS }) => runningS !== null)
      .map(({ name }) => name);
    log.info({ left }, 'what was still going on is left for the next start');
    process.exit(0);
  };
  // It keeps no process from ending by itself.
  setTimeout(leave, LONGEST_END_MS).unref();
}
