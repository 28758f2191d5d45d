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
