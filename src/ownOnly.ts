import { chmodSync, existsSync, lstatSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

const OTHERS = 0o077;
const OTHERS_WRITE = 0o022;
/** To pass through a folder, not to see what lies in it. */
const OTHERS_PASS = 0o011;
/** A folder of everybody's, such as /tmp. */
const STICKY = 0o1000;

/** What this program writes into a data folder. */
const OWN =
  /^(\.?stanchion\.|secret|home|forgotten\.txt|sweep-owed|renewal-owed|at-work-|outbox|originals|photos|backups|parts)/;

/** The folders that a store keeps its files in. */
export interface Folders {
  readonly dataFolder: string;
  readonly originalsFolder: string;
  readonly photosFolder: string;
  readonly inboxFolder: string;
}

/**
 * Closes to others what of the program's own lies open, and the data folder itself. Through that they may still pass where
 * they lay files into the drop folder, which keeps its rights. Returns what could not be closed, such as what is
 * another user's. What lies in a closed folder is out of reach, and not looked at.
 */
export function closeToOthers({ dataFolder, originalsFolder, photosFolder, inboxFolder }: Folders): string[] {
  if (!existsSync(dataFolder)) return [];
  const left: string[] = [];
  for (const name of readdirSync(dataFolder)) if (OWN.test(name)) closeBelow(join(dataFolder, name), left);
  closeBelow(originalsFolder, left);
  closeBelow(photosFolder, left);
  const { mode } = statSync(dataFolder);
  const passable = isWrittenByOthers(inboxFolder) ? mode & OTHERS_PASS : 0;
  if ((mode & STICKY) !== 0) left.push(dataFolder);
  else if ((mode & OTHERS) !== passable) close(dataFolder, mode, passable, left);
  return left;
}

function closeBelow(path: string, left: string[]): void {
  // A file of the database's may go at any moment.
  const stats = lstatSync(path, { throwIfNoEntry: false });
  if (stats === undefined || stats.isSymbolicLink() || (stats.mode & OTHERS) === 0) return;
  // The folder comes last: once it is closed, what lies in it was.
  if (stats.isDirectory()) for (const name of namesIn(path)) closeBelow(join(path, name), left);
  close(path, stats.mode, 0, left);
}

/** What another user keeps to himself cannot be closed either, and is said then. */
function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

function close(path: string, mode: number, keeps: number, left: string[]): void {
  try {
    chmodSync(path, (mode & 0o7700) | keeps);
  } catch {
    if (existsSync(path)) left.push(path);
  }
}

/** Whether somebody else may lay files into the drop folder, or into a rider's folder in it. */
function isWrittenByOthers(dropFolder: string): boolean {
  if (!existsSync(dropFolder)) return false;
  const own = process.getuid?.();
  const isOthers = (path: string): boolean => {
    const { mode, uid } = statSync(path);
    return (mode & OTHERS_WRITE) !== 0 || uid !== own;
  };
  const folders = readdirSync(dropFolder, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  return isOthers(dropFolder) || folders.some(({ name }) => isOthers(join(dropFolder, name)));
}
