/** The front door: settings → store → loops → web. The only place where the parts are put together. */
import { randomUUID } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { boundHeap } from './boundHeap.js';
import { clockAt, clockFrom } from './clock.js';
import { type Config, readConfig } from './config.js';
import { ServiceError } from './errors.js';
import { decodePool, decodeThread } from './files/decodeThread.js';
import { isWholeFile } from './files/isWhole.js';
import { mayBeRide } from './files/mayBeRide.js';
import { openBytes, openFile } from './files/openFile.js';
import { beat } from './flow/beat.js';
import { keepBackups } from './flow/carry/keepBackups.js';
import { deriveAnew } from './flow/facts/deriveAnew.js';
import { tryAgainNow } from './flow/mail/deliverOutbox.js';
import type { Links } from './flow/mail/links.js';
import { HEARTBEAT_MS } from './flow/stillLoops.js';
import { removeOldOriginals } from './flow/take/removeOldOriginals.js';
import type { ScanDeps } from './flow/take/scanInbox.js';
import { openDropFolder } from './inbox/dropFolder.js';
import { forgottenIn } from './inbox/forgotten.js';
import { originalsIn, removeOriginal } from './inbox/originals.js';
import { removeParts } from './inbox/removeParts.js';
import { keptOnce } from './keptOnce.js';
import { openLog } from './log.js';
import { type Loop, sparingly, startLoop, untilAskedToStop } from './loop.js';
import { calendarFeed } from './mail/calendar.js';
import { emlFolder } from './mail/emlFolder.js';
import { smtpMailer } from './mail/smtp.js';
import { mailWriter } from './mail/writer.js';
import type { Clock } from './ports/clock.js';
import type { Forgetting } from './ports/forgetting.js';
import type { Log } from './ports/log.js';
import type { Vitals } from './ports/loops.js';
import type { Mailer } from './ports/mailer.js';
import type { KeptOriginals, Originals } from './ports/originals.js';
import type { RideReader } from './ports/reader.js';
import type { Seal } from './ports/seal.js';
import { openSecret, sealWith } from './secret.js';
import { type BackupFolder, backupFolder } from './store/backupFolder.js';
import { openStore } from './store/open.js';
import { sweep } from './store/sweep.js';
import { DAY_MS, type Instant, MINUTE_MS } from './units.js';
import { createApp } from './web/app.js';
import { startWeb, tryPort } from './web/serve.js';

export { readConfig } from './config.js';
export { countFiles } from './files/openFile.js';
export { listFiles } from './inbox/dropFolder.js';
export { sparingly, untilAskedToStop } from './loop.js';
export { backupStore, restoreStore } from './store/backup.js';
export { moveStore } from './store/move.js';
export { hashPassword } from './web/signIn/password.js';

/** Of many files two are in hand at a time. */
const DECODERS = Math.min(2, availableParallelism());
const decoder = decodePool(DECODERS, () => decodeThread(new URL('../workers/decode.js', import.meta.url)));

export const rideReader: RideReader = {
  decode: decoder.decode,
  open: openFile,
  openBytes,
  mayBeRide,
  isWhole: isWholeFile,
};

/** Everything that a command or a worker needs, and how to let go of it. */
export interface Stanchion extends ScanDeps {
  readonly config: Config;
  readonly forgetting: Forgetting;
  readonly originals: Originals & KeptOriginals;
  close(): Promise<void>;
}

function forgettingIn({ dataFolder, originalsFolder }: Config): Forgetting {
  const mails = emlFolder(join(dataFolder, 'outbox'));
  const { note, list } = forgottenIn(dataFolder);
  return {
    note,
    list,
    remove: async ({ originals, messageIds }) => {
      for (const sha256 of originals) await removeOriginal(originalsFolder, sha256);
      for (const messageId of messageIds) await mails.remove(messageId);
    },
    hasFolder: (handle) => existsSync(join(dataFolder, 'inbox', handle)),
  };
}

/** Leaves nothing in the database, or its log, of what was deleted. Errors: `store-failed`. */
export async function sweepStore(config: Config, { waitMs }: { readonly waitMs: number }): Promise<void> {
  await sweep(placeOf(config), waitMs);
  await forgottenIn(config.dataFolder).sweepDone();
}

/** A page may be reading: it is tried again, and nobody waits for it. */
async function sweepIfOwed(config: Config): Promise<void> {
  if (forgottenIn(config.dataFolder).isSweepOwed()) await sweepStore(config, { waitMs: 0 });
}

/** Returns where the store is: a file, or the address of a server. */
export const placeOf = ({ dataFolder, databaseUrl }: Pick<Config, 'dataFolder' | 'databaseUrl'>): string =>
  databaseUrl ?? join(dataFolder, 'stanchion.db');

/** Errors: `refused` where the store is on a server, which is copied by means of its own. */
export function pathOfStore(config: Config): string {
  if (config.databaseUrl === null) return placeOf(config);
  throw new ServiceError('refused', 'copy the store', 'This store is on a database server.', {
    hint: 'Back it up with the server’s own tools (pg_dump), or copy it into a file: stanchion move FILE',
  });
}

/** Backups that are made here; null where a server keeps the store, and backs it up by means of its own. */
function backupsOf(config: Config): BackupFolder | null {
  if (config.databaseUrl !== null) return null;
  const thread = new URL('../workers/backUp.js', import.meta.url);
  return backupFolder(join(config.dataFolder, 'backups'), placeOf(config), thread);
}

/** Files in two drop folders may have one name: each data folder that shares a server has a name of its own. */
const homeOf = ({ dataFolder, databaseUrl }: Config): string =>
  databaseUrl === null ? '' : keptOnce(join(dataFolder, 'home'), 8);

/**
 * Opens the data folder.
 * Errors: `refused` where there is no store and none is to be made, `store-failed`, `disk-failed`.
 */
export async function openStanchion(
  config: Config,
  options: {
    readonly now: Instant | null;
    readonly runsOn?: boolean;
    readonly make?: boolean;
    readonly log?: Log;
  },
): Promise<Stanchion> {
  boundHeap();
  const place = placeOf(config);
  if (!options.make && config.databaseUrl === null && !existsSync(place)) {
    throw new ServiceError(
      'refused',
      'open the data folder',
      `There is no ledger in ${config.dataFolder} yet.`,
      {
        hint: 'Make one with: stanchion setup, or name the right folder with --data.',
      },
    );
  }
  const clock: Clock =
    options.now !== null && !options.runsOn ? clockAt(options.now) : clockFrom(options.now);
  const store = await openStore(place, clock.now(), {
    workshop: config.workshop,
    home: homeOf(config),
    make: options.make ?? false,
  });
  await deriveAnew({ store, clock });
  return {
    config,
    store,
    clock,
    reader: rideReader,
    originals: originalsIn(config.originalsFolder),
    forgetting: forgettingIn(config),
    inbox: await openDropFolder(join(config.dataFolder, 'inbox')),
    writer: mailWriter,
    mailer: openMailer(config),
    ...linksOf(config),
    ids: { uuid: randomUUID },
    log: options.log ?? openLog(),
    close: async () => {
      await decoder.close();
      await store.close();
    },
  };
}

function openMailer({ smtpUrl, dkim, dataFolder }: Config): Mailer {
  if (smtpUrl === null) return emlFolder(join(dataFolder, 'outbox'));
  if (dkim === null) return smtpMailer(smtpUrl);
  const { domain, selector, keyFile } = dkim;
  return smtpMailer(smtpUrl, {
    dkim: { domainName: domain, keySelector: selector, privateKey: readKey(keyFile) },
  });
}

function readKey(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (cause) {
    throw new ServiceError('wrong-use', 'read the DKIM key', `The key file ${file} cannot be read.`, {
      hint: 'STANCHION_DKIM_KEY_FILE names a PEM file that this user may read.',
      cause,
    });
  }
}

/** Mails carry links only where there is a public address. One click needs HTTPS and a signature. Source: RFC 8058 3.1. */
function linksOf(config: Config): { readonly links?: Links } {
  const { publicUrl, smtpUrl, dkim, isSignedByRelay } = config;
  if (publicUrl === null) return {};
  const isSigned = smtpUrl !== null && (dkim !== null || isSignedByRelay);
  const isOneClick = isSigned && publicUrl.startsWith('https:');
  return { links: { publicUrl, seal: linkSeal(config), isOneClick } };
}

/** Returns what signs links and the calendar's address. */
export const linkSeal = ({ dataFolder, secret }: Config): Seal => sealWith(openSecret(dataFolder, secret));

/** Errors: `refused` where nothing could be served now. */
export const tryServing = ({ host, port }: Config): Promise<void> => tryPort({ host, port });

/** Starts the web pages; `vitals` where loops run beside them. Returns their address and how to stop them. */
export function startPages(stanchion: Stanchion, vitals?: Vitals): ReturnType<typeof startWeb> {
  const { store, clock, ids, log, config, reader, originals, forgetting } = stanchion;
  const secret = openSecret(config.dataFolder, config.secret);
  const { publicUrl, keepOriginalsMonths: keptMonths } = config;
  const rider = {
    ...{ ids, seal: sealWith(secret), feed: calendarFeed },
    ...{ reader, originals, keptMonths, forgetting },
  };
  const app = createApp({
    ...{ store, clock, ids, log, secret, publicUrl, rider, restDays: config.restDays },
    ...(vitals === undefined ? {} : { vitals }),
  });
  return startWeb(app, { host: config.host, port: config.port });
}

/** Says every half minute how the loops of this process are, for whoever asks on another machine. */
function startHeartbeat({ store, log }: Stanchion, loops: readonly Loop[]): { stop(): Promise<void> } {
  const beat = (): Promise<void> => store.write((tx) => tx.heartbeats.put(loops.map((loop) => loop.pulse())));
  const heart = startLoop('heartbeat', beat, log, { pauseMs: HEARTBEAT_MS });
  return {
    stop: async () => {
      await heart.stop();
      // Whoever ends while the store is away is taken for lost by the others, and ends all the same.
      await store
        .write((tx) => tx.heartbeats.remove())
        .catch((error: unknown) => log.error({ error: String(error) }, 'the last word could not be said'));
    },
  };
}

/** Runs one loop alone in this process until it is told to stop. */
export async function runLoopAlone(
  name: string,
  step: (stanchion: Stanchion) => Promise<void>,
): Promise<void> {
  const stanchion = await openStanchion(readConfig(process.env), { now: null });
  const loop = startLoop(name, () => step(stanchion), stanchion.log);
  const heart = startHeartbeat(stanchion, [loop]);
  await untilAskedToStop();
  await loop.stop();
  await heart.stop();
  await stanchion.close();
}

/** Runs folder, reminders, delivery and web in this process until it is told to stop. */
export async function serve(
  stanchion: Stanchion,
  onReady: (url: string) => void,
  stopped: Promise<void>,
): Promise<void> {
  await tryAgainNow(stanchion);
  const loops: Loop[] = [];
  let scannedAt: number | null = null;
  const pages = await startPages(stanchion, {
    loops: () => loops.map((loop) => loop.pulse()),
    sinceScanS: () => (scannedAt === null ? null : (performance.now() - scannedAt) / 1000),
  });
  const scanned = (): void => {
    scannedAt = performance.now();
  };
  const sparing = sparingly();
  const { log, config } = stanchion;
  const backups = backupsOf(config);
  const tidy = async (): Promise<void> => {
    for (const folder of [config.originalsFolder, join(config.dataFolder, 'outbox')])
      await removeParts(folder);
    await removeOldOriginals(stanchion, config.keepOriginalsMonths);
  };
  loops.push(
    startLoop('all', () => beat(stanchion, { scanned, sparing }), log),
    startLoop('tidy', tidy, log, { pauseMs: DAY_MS }),
    startLoop('sweep', () => sweepIfOwed(config), log, { pauseMs: MINUTE_MS }),
  );
  if (backups !== null) {
    const backUp = (): Promise<void> => keepBackups({ ...stanchion, backups }, config.backups);
    loops.push(startLoop('back up', backUp, log, { pauseMs: 5 * MINUTE_MS }));
  }
  const heart = startHeartbeat(stanchion, loops);
  onReady(pages.url);
  await stopped;
  await backups?.stop();
  for (const loop of loops) await loop.stop();
  await heart.stop();
  await pages.close();
}
