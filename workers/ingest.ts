/** Takes what lies in the drop folder, alone in its process. */
import { runLanes } from '../src/main.js';

await runLanes(['folder']);
