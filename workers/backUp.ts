/** Makes one verified backup in a process of its own: copying and checking a large store would hold up the program. */

import { ServiceError } from '../src/errors.js';
import { verifyCopy } from '../src/flow/carry/verifyCopy.js';
import { endWithParent } from '../src/ownThread.js';
import { backupStore } from '../src/store/backup.js';
import type { BackupFault, BackupRequest } from '../src/store/backupFolder.js';

const { path, file, now } = JSON.parse(process.argv[2]!) as BackupRequest;
endWithParent(Number(process.argv[3]));
try {
  await backupStore(path, file, (store) => verifyCopy(store, now), now);
} catch (error) {
  if (!(error instanceof ServiceError)) throw error;
  const { code, message, hint } = error;
  process.stdout.write(JSON.stringify({ code, message, hint } satisfies BackupFault));
}
