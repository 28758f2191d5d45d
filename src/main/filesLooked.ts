/** Files and folders that the settings name, as the user who runs the program finds them. */
import { createPrivateKey } from 'node:crypto';
import { accessSync, constants, existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Config } from '../config.js';
import { fine, type LookedAt, wrong } from './lookedAt.js';

/** What signs links and sessions lies in no backup, so that it is missing where one was restored without it. */
export function secretCheck({ dataFolder, secret }: Config): LookedAt {
  if (secret !== null) return fine('secret', 'STANCHION_SECRET is set.');
  const path = join(dataFolder, 'secret');
  const hint = 'Bring the file from the old data folder or its copy. Else a new one is made by itself.';
  if (!existsSync(path))
    return existsSync(join(dataFolder, 'stanchion.db'))
      ? wrong('secret', `${path} is not there: links in mails that were sent no longer open.`, hint)
      : fine('secret', 'It is made at the first start.');
  if (!mayUse(path, constants.R_OK))
    return wrong('secret', `${path} cannot be read.`, 'Run as the user who owns it.');
  if (!/^[0-9a-f]{64}\n?$/.test(readFileSync(path, 'utf8')))
    return wrong('secret', `${path} is damaged.`, hint);
  return (statSync(path).mode & 0o077) === 0
    ? fine('secret', 'It is there, and its owner’s alone.')
    : wrong('secret', `${path} is open to others.`, `chmod 600 ${path}`);
}

/** Folders that the settings name, and those of the data folder that are there already. */
export function pathChecks(config: Config): LookedAt[] {
  const { dataFolder, inboxFolder, originalsFolder, photosFolder } = config;
  const inside = (name: string): string => join(dataFolder, name);
  return [
    pathCheck('drop folder', inboxFolder, inboxFolder === inside('inbox')),
    pathCheck('originals', originalsFolder, originalsFolder === inside('originals')),
    pathCheck('photographs', photosFolder, photosFolder === inside('photos')),
    pathCheck('outbox', inside('outbox'), true),
    pathCheck('backup folder', inside('backups'), true),
  ];
}

function pathCheck(check: string, path: string, isMade: boolean): LookedAt {
  if (!existsSync(path))
    return isMade
      ? fine(check, `${path} is made when it is needed.`)
      : wrong(
          check,
          `${path} is not there.`,
          'Is its disk connected? Make it, or name another in the settings.',
        );
  if (!statSync(path).isDirectory())
    return wrong(check, `${path} is no folder.`, 'Name a folder in the settings, or move the file away.');
  return mayUse(path, constants.R_OK | constants.W_OK | constants.X_OK)
    ? fine(check, `${path} can be read and written.`)
    : wrong(check, `${path} cannot be read and written.`, 'Give this user its rights, or run as its owner.');
}

export function mayUse(path: string, how: number): boolean {
  try {
    accessSync(path, how);
    return true;
  } catch {
    return false;
  }
}

/** Mails that are to be signed are not sent unsigned. */
export function keyCheck({ keyFile, domain }: NonNullable<Config['dkim']>): LookedAt {
  const hint = 'STANCHION_DKIM_KEY_FILE names a PEM file with the private key that this user may read.';
  if (!mayUse(keyFile, constants.R_OK)) return wrong('signing key', `${keyFile} cannot be read.`, hint);
  try {
    createPrivateKey(readFileSync(keyFile));
  } catch {
    return wrong('signing key', `${keyFile} holds no private key.`, hint);
  }
  return fine('signing key', `Mails are signed for ${domain}.`);
}
