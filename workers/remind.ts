/** Brings forecasts up to date and decides notices, alone in its process. */
import { queueNotices } from '../src/flow/queueNotices.js';
import { refreshAllDue } from '../src/flow/refreshDue.js';
import { openStanchion, readConfig, startLoop, untilAskedToStop } from '../src/main.js';

const stanchion = await openStanchion(readConfig(process.env), { now: null });
const decide = async (): Promise<void> => {
  await refreshAllDue(stanchion);
  await queueNotices(stanchion);
};
const loop = startLoop('remind', decide, stanchion.log);
await untilAskedToStop();
await loop.stop();
await stanchion.close();
