import { type ChildProcess, spawn } from 'node:child_process';
import { mkdir, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type ErrorCode, ServiceError } from '../errors.js';
import type { Backups } from '../ports/backups.js';
import type { Day, Instant } from '../units.js';

/** What the process is asked for. */
export interface BackupRequest {
  readonly path: string;
  readonly file: string;
  readonly now: Instant;
}

/** What the process answers: nothing where it went well. */
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

/**
 * Returns the backups in a folder, each made in a process of its own: pages go on being answered, and a large copy, which
 * no thread can be stopped at, holds up no end of the program.
 */
export function backupFolder(folder: string, path: string, script: URL): BackupFolder {
  let making: ChildProcess | null = null;
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
      const args = [fileURLToPath(script), JSON.stringify(request), String(process.pid)];
      making = spawn(process.execPath, args, {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      const fault = await answerOf(making, () => isStopped);
      making = null;
      if (isStopped) await removeParts(folder);
      if (fault) {
        const { code, message, hint } = fault;
        throw new ServiceError(code, message, hint === undefined ? {} : { hint });
      }
    },
    remove: async (day) => rm(join(folder, nameOf(day)), { force: true }).catch(asDiskFault),
    stop: async () => {
      isStopped = true;
      making?.kill('SIGKILL');
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

const answerOf = (making: ChildProcess, isStopped: () => boolean): Promise<BackupFault | null> =>
  new Promise((resolve, reject) => {
    let told = '';
    making.stdout!.on('data', (bytes) => {
      told += String(bytes);
    });
    making.once('error', reject);
    making.once('close', (status) => {
      if (isStopped()) resolve(null);
      else if (told !== '') resolve(JSON.parse(told) as BackupFault);
      else if (status === 0) resolve(null);
      else reject(new ServiceError('disk-failed', 'The backup ended before it was done.'));
    });
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
