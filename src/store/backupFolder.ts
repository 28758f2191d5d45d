import { mkdir, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Worker } from 'node:worker_threads';
import { type ErrorCode, ServiceError } from '../errors.js';
import { startThread } from '../ownThread.js';
import type { Backups } from '../ports/backups.js';
import type { Day, Instant } from '../units.js';

/** What the thread is asked for. */
export interface BackupRequest {
  readonly path: string;
  readonly file: string;
  readonly now: Instant;
}

/** What the thread answers: nothing where it went well. */
export interface BackupFault {
  readonly code: ErrorCode;
  readonly message: string;
  readonly hint: string | undefined;
}

const NAME = /^stanchion-(\d{4}-\d\d-\d\d)\.db$/;
const nameOf = (day: Day): string => `stanchion-${day}.db`;

export interface BackupFolder extends Backups {
  /** Gives up the one that is being made, which then never gets its name. */
  stop(): Promise<void>;
}

/** Returns the backups in a folder, each made in a thread of its own, so that pages go on being answered. */
export function backupFolder(folder: string, path: string, script: URL): BackupFolder {
  let thread: Worker | null = null;
  let isStopped = false;
  return {
    list: async () => {
      const names = await readdir(folder).catch(emptyWhereMissing);
      return names.flatMap((name) => (NAME.exec(name)?.[1] ?? []) as Day | []).sort();
    },
    make: async (day, now) => {
      if (isStopped) return;
      await mkdir(folder, { recursive: true, mode: 0o700 }).catch(asDiskFault);
      await removeParts(folder);
      if (isStopped) return;
      const request: BackupRequest = { path, file: join(folder, nameOf(day)), now };
      thread = startThread(script, { workerData: request });
      const fault = await answerOf(thread, () => isStopped);
      thread = null;
      if (isStopped) await removeParts(folder);
      if (fault) {
        const { code, message, hint } = fault;
        throw new ServiceError(code, message, hint === undefined ? {} : { hint });
      }
    },
    remove: async (day) => rm(join(folder, nameOf(day)), { force: true }).catch(asDiskFault),
    stop: async () => {
      isStopped = true;
      await thread?.terminate();
    },
  };
}

/** What a program that was killed had begun to copy. */
async function removeParts(folder: string): Promise<void> {
  const names = await readdir(folder).catch(emptyWhereMissing);
  for (const name of names)
    if (/^\.stanchion-.*\.part(-wal|-shm|-journal)?$/.test(name))
      await rm(join(folder, name), { force: true }).catch(asDiskFault);
}

const answerOf = (thread: Worker, isStopped: () => boolean): Promise<BackupFault | null> =>
  new Promise((resolve, reject) => {
    let fault: BackupFault | null = null;
    thread.on('message', (told: BackupFault) => {
      fault = told;
    });
    thread.once('error', reject);
    thread.once('exit', (status) =>
      status === 0 || fault !== null || isStopped()
        ? resolve(fault)
        : reject(new ServiceError('disk-failed', 'The backup ended before it was done.')),
    );
  });

function emptyWhereMissing(error: NodeJS.ErrnoException): string[] {
  if (error.code === 'ENOENT') return [];
  return asDiskFault(error);
}

function asDiskFault(cause: unknown): never {
  throw new ServiceError('disk-failed', 'The folder of the backups cannot be used.', {
    hint: 'Is the disk full, or the folder missing or read-only?',
    cause,
  });
}
