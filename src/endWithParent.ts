import { startThread } from './ownThread.js';

/**
 * Ends this process, whatever it is at, soon after the one that started it has ended: that may have been killed, and
 * nobody would be left to stop this one. A thread looks, for one long statement of a database leaves no time for it.
 */
export function endWithParent(parent: number): void {
  const thread = new URL('../workers/watchParent.js', import.meta.url);
  startThread(thread, { workerData: parent }).unref();
}
