/** Serves the pages, alone in its process. */
import { openStanchion, readConfig, startPages, untilAskedToStop } from '../src/main.js';

const stanchion = await openStanchion(readConfig(process.env), { now: null });
const pages = await startPages(stanchion);
stanchion.log.info({ url: pages.url }, 'the pages are ready');
await untilAskedToStop();
await pages.close();
await stanchion.close();
