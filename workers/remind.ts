/** Brings forecasts up to date and decides notices, alone in its process. */
import { remind } from '../src/flow/beat.js';
import { runLoopAlone, sparingly } from '../src/main.js';

const sparing = sparingly();
await runLoopAlone('remind', (stanchion) => remind(stanchion, sparing));
