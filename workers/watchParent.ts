/** Ends its process once another stands in the place of the one that started it. */
import { workerData } from 'node:worker_threads';

const PAUSE_MS = 500;

function look(): void {
  if (process.ppid !== workerData) process.kill(process.pid, 'SIGKILL');
}

look();
setInterval(look, PAUSE_MS);
