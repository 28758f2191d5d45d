/** Hands over the mails that wait, alone in its process. */
import { runLanes } from '../src/main.js';

await runLanes(['deliver']);
