/** Hands over the mails that wait, alone in its process. */
import { deliverOutbox } from '../src/flow/deliverOutbox.js';
import { runLoopAlone } from '../src/main.js';

await runLoopAlone('deliver', deliverOutbox);
