import { setFlagsFromString } from 'node:v8';
import { Worker, type WorkerOptions } from 'node:worker_threads';

/**
 * Starts a thread that compiles its own code. Where another thread does it beside, and this one ends meanwhile, Node 20
 * ends the whole program: “Assertion failed: (data.first) != nullptr” in node_platform.cc. Threads that were started
 * before, the program's own among them, compile as they did.
 */
export function startThread(script: URL, options: WorkerOptions): Worker {
  setFlagsFromString('--no-concurrent-recompilation');
  return new Worker(script, options);
}

/**
 * Ends this process, whatever it is at, soon after the one that started it has ended: that may have been killed, and
 * nobody would be left to stop this one. A thread looks, for one long statement of a database leaves no time for it.
 */
export function endWithParent(parent: number): void {
  const thread = new URL('../workers/watchParent.js', import.meta.url);
  startThread(thread, { workerData: parent }).unref();
}
