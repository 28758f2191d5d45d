/** The lanes: what goes on by itself beside the pages, each in a loop of its own, so that none waits for another. */

import { join } from 'node:path';
import { type Bell, openBells } from '../bells.js';
import { forgetAgain } from '../flow/carry/forgetAll.js';
import { keepBackups } from '../flow/carry/keepBackups.js';
import { findClockDoubt } from '../flow/clockDoubt.js';
import { deliverOutbox, tryAgainNow, type Which } from '../flow/mail/deliverOutbox.js';
import { queueNotices } from '../flow/mail/queueNotices.js';
import { sweepPhotos } from '../flow/photos/sweepPhotos.js';
import { remindOnce } from '../flow/remind.js';
import { findWorkshop } from '../flow/settings.js';
import { FolderTurns } from '../flow/take/folderTurns.js';
import { removeOldOriginals } from '../flow/take/removeOldOriginals.js';
import { rereadOnce } from '../flow/take/rereadOnce.js';
import { scanInboxOnce } from '../flow/take/scanInbox.js';
import { type MailTries, takeMailsOnce } from '../flow/take/takeMails.js';
import { partsIn } from '../inbox/parts.js';
import { removeParts } from '../inbox/removeParts.js';
import { type Loop, type LoopTimes, sparingly, startLoop } from '../loop.js';
import type { LoopName, Step, Vitals } from '../ports/loops.js';
import { HOUR_MS, MINUTE_MS, msOf, secondsIn } from '../units.js';
import type { Stanchion } from './opening.js';
import { backupsOf, partsFolder, sweepIfOwed } from './places.js';
import { isForgettingOwed, renewBackupsIfOwed } from './renewBackups.js';

/** What each does is bounded: in a turn others get theirs, and a step that takes the longest time is said to hang. */
const TIMES: Readonly<Record<LoopName, LoopTimes>> = {
  folder: { pauseMs: msOf(5), turnMs: msOf(20), longestMs: 3 * MINUTE_MS },
  mailbox: { pauseMs: MINUTE_MS, turnMs: msOf(20), longestMs: 10 * MINUTE_MS },
  remind: { pauseMs: msOf(5), turnMs: msOf(5), longestMs: 3 * MINUTE_MS },
  safety: { pauseMs: msOf(5), turnMs: msOf(20), longestMs: 2 * MINUTE_MS },
  deliver: { pauseMs: msOf(5), turnMs: msOf(20), longestMs: 2 * MINUTE_MS },
  sweep: { pauseMs: MINUTE_MS, turnMs: MINUTE_MS, longestMs: 15 * MINUTE_MS },
  originals: { pauseMs: HOUR_MS, turnMs: MINUTE_MS, longestMs: 15 * MINUTE_MS },
  reread: { pauseMs: HOUR_MS, turnMs: msOf(20), longestMs: 3 * MINUTE_MS },
  backup: { pauseMs: 5 * MINUTE_MS, turnMs: MINUTE_MS, longestMs: HOUR_MS },
};

/** Handing over is two lanes, and keeping four, which one worker each may run. */
export const DELIVERING: readonly LoopName[] = ['safety', 'deliver'];
export const KEEPING: readonly LoopName[] = ['sweep', 'originals', 'reread', 'backup'];
export const ALL_LANES = Object.keys(TIMES) as readonly LoopName[];

const sinceMs = (began: number): number => Math.round(performance.now() - began);

const REFRESH_AT = '1 0 * * *';
const SWEEP_AT = '30 2 * * *';
const OLD_ORIGINALS_AT = '45 2 * * *';

/** Reminders, but for safety's, wait so long for the first scan: one mail tells of all that lay in the folder. */
const FIRST_SCAN_MS = MINUTE_MS;

export interface Lanes extends Vitals {
  /** Hangs the bells for the workshop's hours as they are now. */
  hangBells(): Promise<void>;
  stop(): Promise<void>;
}

/** Starts the lanes that are named; those of one process ring one another. */
export function startLanes(stanchion: Stanchion, names: readonly LoopName[]): Lanes {
  const began = performance.now();
  const lanes = new Map<LoopName, Loop>();
  const ring = (name: LoopName): void => lanes.get(name)?.ring();
  const backups = backupsOf(stanchion.config);
  const folder = folderLane(stanchion, () => ring('remind'));
  const steps: Readonly<Record<LoopName, Step>> = {
    folder: folder.step,
    mailbox: mailboxLane(stanchion),
    remind: remindLane(stanchion, names.includes('folder') ? folder : null, () => {
      ring('safety');
      ring('deliver');
    }),
    safety: deliverLane(stanchion, 'safety'),
    deliver: deliverLane(stanchion, 'others'),
    sweep: async ({ signal }) => {
      const began = performance.now();
      // A command that was ended in the middle of it left this: nobody is swept out who is still there.
      if (isForgettingOwed(stanchion.config)) await forgetAgain(stanchion);
      const isSwept = await sweepIfOwed(stanchion.config, signal);
      if (isSwept) stanchion.log.info({ ms: sinceMs(began) }, 'what was forgotten is swept out of the store');
      const now = stanchion.clock.now();
      const renewed = await renewBackupsIfOwed(stanchion.config, now, async (day) => backups?.make(day, now));
      if (renewed.backups + renewed.replaced > 0)
        stanchion.log.info({ ...renewed }, 'backups that held who was forgotten gave way to a new one');
      return false;
    },
    originals: () => tidy(stanchion),
    reread: (turn) => rereadOnce(stanchion, { turn }),
    backup: async () => {
      const began = performance.now();
      const day = backups && (await keepBackups({ ...stanchion, backups }, stanchion.config.backups));
      if (day) stanchion.log.info({ day, ms: sinceMs(began) }, 'a verified backup is kept');
      return false;
    },
  };
  for (const name of names) lanes.set(name, startLoop(name, steps[name], stanchion.log, TIMES[name]));
  const all = [...lanes.values()];
  const bells = openBells();
  return {
    hangBells: async () => {
      const workshop = (await stanchion.store.read(findWorkshop))?.body;
      bells.hang(bellsOf(stanchion, workshop?.digestHour ?? 0, ring), workshop?.timeZone ?? 'UTC');
    },
    loops: () => all.map((loop) => loop.pulse()),
    scanLagS: () =>
      names.includes('folder') ? secondsIn(performance.now() - (folder.scannedAt ?? began)) : 0,
    sinceScanS: () => (folder.scannedAt === null ? null : secondsIn(performance.now() - folder.scannedAt)),
    stop: async () => {
      bells.stop();
      await backups?.stop();
      await Promise.all(all.map((loop) => loop.stop()));
    },
  };
}

/** The hours of the settings, and one expression for each thing that belongs to the night. */
const bellsOf = ({ config }: Stanchion, digestHour: number, ring: (name: LoopName) => void): Bell[] => [
  { at: `0 ${digestHour} * * *`, ring: () => ring('remind') },
  { at: `0 ${config.backups.hour} * * *`, ring: () => ring('backup') },
  { at: REFRESH_AT, ring: () => ring('remind') },
  { at: SWEEP_AT, ring: () => ring('sweep') },
  { at: OLD_ORIGINALS_AT, ring: () => ring('originals') },
];

interface FolderLane {
  readonly step: Step;
  /** When the folder was seen to its end, by a clock that only runs forward. */
  scannedAt: number | null;
  /** Whether files came since reminders were decided. */
  isNews: boolean;
}

function folderLane(stanchion: Stanchion, onNews: () => void): FolderLane {
  const turns = new FolderTurns();
  const lane: FolderLane = {
    scannedAt: null,
    isNews: false,
    step: async (turn) => {
      const { isNews, isMore, left } = await scanInboxOnce(stanchion, turn, turns);
      if (isMore) stanchion.log.info({ left }, 'files of the drop folder are still to be read');
      const isFirst = lane.scannedAt === null;
      if (!isMore) lane.scannedAt = performance.now();
      lane.isNews ||= isNews;
      if (isNews || (isFirst && !isMore)) onNews();
      return isMore;
    },
  };
  return lane;
}

/** Rides that come by mail, where there is a mailbox. */
function mailboxLane(stanchion: Stanchion): Step {
  const { mailbox, rides } = stanchion;
  const tries: MailTries = new Map();
  if (mailbox === null || rides === null) return async () => false;
  const parts = partsIn(partsFolder(stanchion.config));
  return (turn) => takeMailsOnce({ ...stanchion, mailbox, rides, parts }, turn, tries);
}

function remindLane(stanchion: Stanchion, folder: FolderLane | null, onDecided: () => void): Step {
  const sparing = sparingly();
  const began = performance.now();
  const isStopNews = stopNews(stanchion);
  return async (turn) => {
    if (await isStopNews()) {
      await queueNotices(stanchion, { safetyOnly: true });
      onDecided();
    }
    const isEarly = folder?.scannedAt === null && performance.now() - began < FIRST_SCAN_MS;
    if (isEarly) {
      await sparing(() => queueNotices(stanchion, { safetyOnly: true }), false);
      onDecided();
      return false;
    }
    const isNews = folder?.isNews ?? false;
    if (folder !== null) folder.isNews = false;
    const isMore = await remindOnce(stanchion, turn, { sparing, isNews });
    onDecided();
    return isMore;
  };
}

/** Returns what tells whether others must not be ridden than when it was asked last: that waits for nothing else. */
function stopNews({ store }: Stanchion): () => Promise<boolean> {
  let before = '';
  return async () => {
    const unitIds = await store.read((tx) => tx.standings.listUnitsIn(['stop-riding']));
    const now = [...unitIds].sort().join(' ');
    const isNews = now !== before;
    before = now;
    return isNews;
  };
}

/** What bears on safety goes by itself: no mail that a relay takes a minute over holds it up. */
function deliverLane(stanchion: Stanchion, which: Which): Step {
  let isFirst = which === 'others';
  return async (turn) => {
    if (isFirst) await tryAgainNow(stanchion);
    isFirst = false;
    return deliverOutbox(stanchion, turn, which);
  };
}

async function tidy(stanchion: Stanchion): Promise<boolean> {
  const { config, store, clock } = stanchion;
  if (await store.read((tx) => findClockDoubt(tx, clock))) return false;
  for (const folder of [
    config.originalsFolder,
    config.photosFolder,
    join(config.dataFolder, 'outbox'),
    partsFolder(config),
  ])
    await removeParts(folder);
  const began = performance.now();
  const files = await removeOldOriginals(stanchion, config.keepOriginalsMonths);
  if (files > 0)
    stanchion.log.info({ files, ms: sinceMs(began) }, 'ride files older than they are kept are gone');
  const swept = await sweepPhotos(stanchion);
  if (swept > 0) stanchion.log.info({ files: swept }, 'files of photographs that nothing names are gone');
  return false;
}
