/** What commands do that take long, beside the store: while one holds it, nothing else can be written there. */
import { readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CommandAtWork } from '../ports/loops.js';
import { MINUTE_MS } from '../units.js';

const NAME = /^at-work-(\d+)$/;
/** Who said nothing for so long hangs, or its number is another's by now. */
const SILENT_MS = 2 * MINUTE_MS;

/** Returns what says how far a command is. What it says goes with its process. */
export function atWorkIn(dataFolder: string, command: string) {
  const path = join(dataFolder, `at-work-${process.pid}`);
  const remove = (): void => rmSync(path, { force: true });
  let isSaid = false;
  return {
    say: (left: number): void => {
      if (!isSaid) process.once('exit', remove);
      isSaid = true;
      const told: CommandAtWork = { command, left };
      writeFileSync(path, JSON.stringify(told), { mode: 0o600 });
    },
    done: (): void => {
      process.removeListener('exit', remove);
      if (isSaid) remove();
    },
  };
}

/** Returns the commands at work on a data folder. */
export function listAtWork(dataFolder: string): CommandAtWork[] {
  return readdirSync(dataFolder).flatMap((name) => {
    const pid = NAME.exec(name)?.[1];
    const path = join(dataFolder, name);
    if (pid === undefined || !isRunning(Number(pid))) return [];
    const stats = statSync(path, { throwIfNoEntry: false });
    if (stats === undefined || Date.now() - stats.mtimeMs > SILENT_MS) return [];
    return parsed(path);
  });
}

/** One that is half written, or has just gone, says nothing now. */
function parsed(path: string): CommandAtWork[] {
  try {
    return [JSON.parse(readFileSync(path, 'utf8')) as CommandAtWork];
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (error instanceof SyntaxError || code === 'ENOENT') return [];
    throw error;
  }
}

/** Another user's process is there too. */
function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
