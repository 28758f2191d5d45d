import { hostname } from 'node:os';
import { newId } from './scope.js';

/** This process among all that work on the store: its machine, its number there, and a name never used before. */
export const WORKER = `${hostname()} ${process.pid} ${newId()}`;

/** Returns the machine that a worker is on. */
export const hostOf = (worker: string): string => worker.split(' ')[0]!;

/** Whether a worker is known to have ended. One of another machine never is: its claims end with their time. */
export function isGone(worker: string): boolean {
  const [host, pid] = worker.split(' ');
  if (host !== hostname() || worker === WORKER) return false;
  // Its number was given to us after it had ended.
  if (Number(pid) === process.pid) return true;
  try {
    process.kill(Number(pid), 0);
    return false;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ESRCH';
  }
}
