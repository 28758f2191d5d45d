/** Hands over the mails that wait, alone in its process. */
import { deliverOutbox } from '../src/flow/deliverOutbox.js';
import { openStanchion, readConfig, startLoop, untilAskedToStop } from '../src/main.js';

const stanchion = await openStanchion(readConfig(process.env), { now: null });
const loop = startLoop('deliver', () => deliverOutbox(stanchion), stanchion.log);
await untilAskedToStop();
await loop.stop();
await stanchion.close();
