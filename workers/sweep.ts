/** Leaves nothing in a database file of what was deleted; whoever asks goes on meanwhile. */
import { SWEEP_WAIT_MS, sweep } from '../src/store/sweep.js';

await sweep(process.argv[2]!, SWEEP_WAIT_MS);
