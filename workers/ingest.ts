/** Takes what lies in the drop folder, alone in its process. */
import { scanInboxOnce } from '../src/flow/scanInbox.js';
import { openStanchion, readConfig, startLoop, untilAskedToStop } from '../src/main.js';

const stanchion = await openStanchion(readConfig(process.env), { now: null });
const scan = async (): Promise<void> => {
  while (await scanInboxOnce(stanchion));
};
const loop = startLoop('ingest', scan, stanchion.log);
await untilAskedToStop();
await loop.stop();
await stanchion.close();
