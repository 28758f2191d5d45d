import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { ServiceError } from '../errors.js';
import { whyNot } from '../whyNot.js';

/** A file that gets its name only when it is whole and on disk. */
export interface FilePart {
  write(text: string): void;
  finish(): void;
  abandon(): void;
}

const CHUNK = 1 << 20;

/** Errors: `disk-failed`. */
export function openPart(path: string): FilePart {
  const folder = dirname(resolve(path));
  const part = join(folder, `.${basename(path)}.part`);
  const guarded = <T>(work: () => T): T => {
    try {
      return work();
    } catch (cause) {
      const why = whyNot(part, cause);
      throw new ServiceError(
        'disk-failed',
        `${path} could not be written.${why === null ? '' : ` ${why.message}`}`,
        {
          hint: why?.hint ?? 'Is the disk still connected, and does no folder of that name stand in the way?',
          cause,
        },
      );
    }
  };
  const file = guarded(() => openSync(part, 'w', 0o600));
  // Half a file goes with the process that writes it; one that a killed process left is written over by the next.
  const remove = (): void => rmSync(part, { force: true });
  process.once('exit', remove);
  let waiting: string[] = [];
  let length = 0;
  let isOpen = true;
  const flush = (): void => {
    guarded(() => writeSync(file, waiting.join('')));
    waiting = [];
    length = 0;
  };
  return {
    write: (text) => {
      waiting.push(text);
      length += text.length;
      if (length >= CHUNK) flush();
    },
    finish: () => {
      flush();
      guarded(() => {
        fsyncSync(file);
        closeSync(file);
        isOpen = false;
        renameSync(part, path);
        process.removeListener('exit', remove);
        const directory = openSync(folder, 'r');
        fsyncSync(directory);
        closeSync(directory);
      });
    },
    abandon: () => {
      if (isOpen) closeSync(file);
      process.removeListener('exit', remove);
      remove();
    },
  };
}

/** Writes an object whole, its lists a row a line. */
export function writeWhole(part: FilePart, object: Readonly<Record<string, unknown>>): void {
  try {
    const keys = Object.entries(object).map(([name, value]) => `${JSON.stringify(name)}: ${rowsOf(value)}`);
    part.write(`{\n${keys.join(',\n')}\n}\n`);
    part.finish();
  } catch (error) {
    part.abandon();
    throw error;
  }
}

/** Returns JSON with a row a line. */
export const rowsOf = (value: unknown): string =>
  Array.isArray(value)
    ? `[${value.map((row) => `\n${JSON.stringify(row)}`).join(',')}\n]`
    : JSON.stringify(value);
