/** Leaves nothing in a database file of what was deleted; whoever asks goes on meanwhile. */
import { endWithParent } from '../src/ownThread.js';
import { SWEEP_WAIT_MS, sweep } from '../src/store/file/sweep.js';

endWithParent(Number(process.argv[3]));
await sweep(process.argv[2]!, SWEEP_WAIT_MS);
