/** Makes one verified backup in a thread: copying and checking a large store would hold up the pages. */
import { parentPort, workerData } from 'node:worker_threads';
import { ServiceError } from '../src/errors.js';
import { verifyCopy } from '../src/flow/carry/verifyCopy.js';
import { backupStore } from '../src/store/backup.js';
import type { BackupFault, BackupRequest } from '../src/store/backupFolder.js';

const { path, file, now } = workerData as BackupRequest;
try {
  await backupStore(path, file, (store) => verifyCopy(store, now), now);
} catch (error) {
  if (!(error instanceof ServiceError)) throw error;
  const { code, message, hint } = error;
  parentPort!.postMessage({ code, message, hint } satisfies BackupFault);
}
