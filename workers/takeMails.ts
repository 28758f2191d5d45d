/** Takes rides that come by mail, alone in its process. */
import { runLanes } from '../src/main.js';

await runLanes(['mailbox']);
