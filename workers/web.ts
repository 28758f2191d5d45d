/** Serves the pages, alone in its process. */
import { runPages } from '../src/main.js';

await runPages();
