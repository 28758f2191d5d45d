/** Hands over the mails that wait, alone in its process. */
import { DELIVERING, runLanes } from '../src/main.js';

await runLanes(DELIVERING);
