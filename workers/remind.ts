/** Brings forecasts up to date and decides notices, alone in its process. */
import { runLanes } from '../src/main.js';

await runLanes(['remind']);
