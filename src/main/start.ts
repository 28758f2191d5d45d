/** What a log says first: which version runs, on what, and what is to be expected of it. */
import { resolve } from 'node:path';
import { getHeapStatistics } from 'node:v8';
import { dayOf } from '../core/days/calendar.js';
import { findWorkshop, hasBegun } from '../flow/settings.js';
import type { LoopName } from '../ports/loops.js';
import { VERSION } from '../version.js';
import type { Stanchion } from './opening.js';

/** A name and port, without who signs in there. */
const hostOf = (url: string): string => new URL(url).host;

/** Writes the first line of a process that runs on. */
export async function logStart(
  stanchion: Stanchion,
  lanes: readonly LoopName[],
  hasPages: boolean,
): Promise<void> {
  const { config, store, clock, log } = stanchion;
  const workshop = (await store.read(findWorkshop))?.body;
  const { smtpUrl, isMailFolderEnd, publicUrl, host, port, backups, keepOriginalsMonths } = config;
  const reminders =
    workshop === undefined
      ? 'no workshop yet'
      : hasBegun(workshop, dayOf(clock.now(), workshop.timeZone))
        ? 'begun'
        : 'not begun';
  log.info(
    {
      ...{ version: VERSION, before: store.writtenBy, node: process.versions.node },
      data: resolve(config.dataFolder),
      store: config.databaseUrl === null ? 'file' : `server ${hostOf(config.databaseUrl)}`,
      mails:
        smtpUrl !== null
          ? `go to the relay ${hostOf(smtpUrl)}`
          : isMailFolderEnd
            ? 'end in the folder outbox'
            : 'are written down and not sent',
      reminders,
      zone: workshop?.timeZone ?? null,
      ...(hasPages ? { listens: `${host}:${port}`, publicUrl } : {}),
      lanes,
      limits: {
        memoryMb: Math.round(getHeapStatistics().heap_size_limit / 2 ** 20),
        backupsKept: backups.kept,
        originalsMonths: keepOriginalsMonths,
      },
    },
    `Stanchion ${VERSION} starts`,
  );
}
