/** Brings forecasts up to date and decides notices, alone in its process. */
import { queueNotices } from '../src/flow/queueNotices.js';
import { refreshAllDue } from '../src/flow/refreshDue.js';
import { runLoopAlone } from '../src/main.js';

await runLoopAlone('remind', async (stanchion) => {
  await refreshAllDue(stanchion);
  await queueNotices(stanchion);
});
