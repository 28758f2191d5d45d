/** Takes what lies in the drop folder, alone in its process. */
import { scanInboxOnce } from '../src/flow/take/scanInbox.js';
import { runLoopAlone } from '../src/main.js';

await runLoopAlone('ingest', async (stanchion) => {
  while (await scanInboxOnce(stanchion));
});
