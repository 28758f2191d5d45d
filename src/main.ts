/** The front door: settings → store → lanes → web. The only place where the parts are put together. */
import { type Config, readConfig } from './config.js';
import { endWithin, untilAskedToStop } from './ending.js';
import { forgetAgain } from './flow/carry/forgetAll.js';
import { watchClock } from './flow/clockDoubt.js';
import { readinessLog } from './flow/readiness.js';
import { HEARTBEAT_MS } from './flow/stillLoops.js';
import { partsIn } from './inbox/parts.js';
import { type Loop, startLoop } from './loop.js';
import { calendarFeed } from './mail/calendar.js';
import { ALL_LANES, type Lanes, startLanes } from './main/lanes.js';
import { machineOf } from './main/machine.js';
import { openStanchion, type Stanchion } from './main/opening.js';
import { partsFolder } from './main/places.js';
import { logStart } from './main/start.js';
import { closeToOthers } from './ownOnly.js';
import type { LoopName, Vitals } from './ports/loops.js';
import { openSecret, sealWith } from './secret.js';
import type { Serving } from './web/serve.js';

export { type Config, readConfig } from './config.js';
export { untilAskedToStop } from './ending.js';
export { atWorkIn } from './inbox/atWork.js';
export { examine } from './main/doctor.js';
export { DELIVERING, KEEPING } from './main/lanes.js';
export { linkSeal, openStanchion, type Stanchion } from './main/opening.js';
export { bringPhotos } from './main/photosBeside.js';
export {
  isLedgerThere,
  needLedger,
  pathOfStore,
  placeOf,
  sweepStore,
  withBackupsNamed,
} from './main/places.js';
export { isForgettingOwed, oweRenewal, type Renewed, renewBackupsIfOwed } from './main/renewBackups.js';
export { backupStore, removeReplaced, restoreStore } from './store/backup.js';
export { moveStore } from './store/move.js';
export { hashPassword } from './web/signIn/password.js';

/** Errors: `refused` where nothing could be served now. */
export const tryServing = async ({ host, port }: Config): Promise<void> =>
  (await import('./web/serve.js')).tryPort({ host, port });

/** Starts the web pages; `vitals` where lanes run beside them. Returns their address and how to stop them. */
export async function startPages(stanchion: Stanchion, vitals?: Vitals): Promise<Serving> {
  // Of all commands only those that serve need pages.
  const [{ createApp }, { startWeb }] = await Promise.all([import('./web/app.js'), import('./web/serve.js')]);
  const { store, clock, ids, log, config, reader, originals, forgetting } = stanchion;
  const secret = openSecret(config.dataFolder, config.secret);
  const { publicUrl, trustedProxy, metricsSecret, restDays, keepOriginalsMonths: keptMonths } = config;
  const rider = {
    ...{ ids, seal: sealWith(secret), feed: calendarFeed },
    ...{ reader, originals, parts: partsIn(partsFolder(config)), keptMonths, forgetting },
    mailbox: stanchion.rides,
  };
  const photos = {
    ...{ maker: stanchion.photoMaker, files: stanchion.photoFiles },
    parts: partsIn(partsFolder(config)),
  };
  const app = createApp({
    photos,
    writer: stanchion.writer,
    ...{ store, clock, ids, log, secret, publicUrl, trustedProxy, metricsSecret, restDays, rider },
    machine: machineOf(stanchion),
    ...(vitals === undefined ? {} : { vitals }),
  });
  return startWeb(app, { host: config.host, port: config.port });
}

/** Says every half minute how the lanes of this process are, for whoever asks on another machine, and watches the clock. */
function startHeartbeat(stanchion: Stanchion, lanes: Lanes): Loop {
  const { store, clock, log } = stanchion;
  const { loops, hangBells } = lanes;
  const logReasons = readinessLog({ store, clock, log, vitals: lanes, machine: machineOf(stanchion) });
  let lastBeat = performance.now();
  const beat = async (): Promise<boolean> => {
    const now = performance.now();
    await watchClock(stanchion, now - lastBeat);
    lastBeat = now;
    await hangBells();
    await store.write((tx) => tx.heartbeats.put(loops()));
    await logReasons();
    return false;
  };
  const heart = startLoop('heartbeat', beat, log, {
    pauseMs: HEARTBEAT_MS,
    turnMs: HEARTBEAT_MS,
    longestMs: HEARTBEAT_MS,
  });
  return {
    ...heart,
    stop: async () => {
      await heart.stop();
      // Whoever ends while the store is away is taken for lost by the others, and ends all the same.
      await store
        .write((tx) => tx.heartbeats.remove())
        .catch((error: unknown) => log.error({ error }, 'the last word could not be said'));
    },
  };
}

/** A process of its own: whatever it writes is for its owner alone. */
function openAlone(): Promise<Stanchion> {
  process.umask(0o077);
  return openStanchion(readConfig(process.env), { now: null, logs: 'all' });
}

/** What an earlier program left open is closed with each start, and whoever came back with a backup is forgotten. */
async function putInOrder(stanchion: Stanchion): Promise<void> {
  const left = closeToOthers(stanchion.config);
  if (left.length > 0) stanchion.log.error({ left }, 'Others may read what this user cannot close');
  const riders = await forgetAgain(stanchion);
  if (riders > 0) stanchion.log.info({ riders }, 'who had come back with a backup is forgotten again');
}

/** Runs some lanes alone in this process until it is told to stop. */
export async function runLanes(names: readonly LoopName[]): Promise<void> {
  const stanchion = await openAlone();
  await logStart(stanchion, names, false);
  await putInOrder(stanchion);
  const lanes = startLanes(stanchion, names);
  const heart = startHeartbeat(stanchion, lanes);
  await untilAskedToStop();
  endWithin(stanchion.log, lanes.loops);
  await lanes.stop();
  await heart.stop();
  await stanchion.close();
}

/** Runs the pages alone in this process until it is told to stop. */
export async function runPages(): Promise<void> {
  const stanchion = await openAlone();
  await logStart(stanchion, [], true);
  await putInOrder(stanchion);
  const pages = await startPages(stanchion);
  stanchion.log.info({ url: pages.url }, 'the pages are ready');
  await untilAskedToStop();
  endWithin(stanchion.log, () => []);
  await pages.close();
  await stanchion.close();
}

/** Runs all lanes and the pages in this process until it is told to stop. */
export async function serve(
  stanchion: Stanchion,
  onReady: (url: string) => void,
  stopped: Promise<void>,
): Promise<void> {
  await logStart(stanchion, ALL_LANES, true);
  await putInOrder(stanchion);
  let lanes: Lanes | null = null;
  const pages = await startPages(stanchion, {
    loops: () => lanes?.loops() ?? [],
    sinceScanS: () => lanes?.sinceScanS() ?? null,
    scanLagS: () => lanes?.scanLagS?.() ?? 0,
  });
  lanes = startLanes(stanchion, ALL_LANES);
  const heart = startHeartbeat(stanchion, lanes);
  stanchion.log.info({ url: pages.url }, 'the pages are ready');
  onReady(pages.url);
  await stopped;
  endWithin(stanchion.log, lanes.loops);
  await Promise.all([lanes.stop(), pages.close()]);
  await heart.stop();
}
