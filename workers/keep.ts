/** Sweeps, lets go of old files and makes backups, alone in its process. */
import { KEEPING, runLanes } from '../src/main.js';

await runLanes(KEEPING);
