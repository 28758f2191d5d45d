/** Hands over the mails that wait, alone in its process. */
import { deliverOutbox, tryAgainNow } from '../src/flow/mail/deliverOutbox.js';
import { runLoopAlone } from '../src/main.js';

let isStart = true;
await runLoopAlone('deliver', async (deps) => {
  if (isStart) await tryAgainNow(deps);
  isStart = false;
  await deliverOutbox(deps);
});
