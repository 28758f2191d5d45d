import { rmSync, statSync, writeFileSync } from 'node:fs';

/** Longer than any sweep goes on. Units: milliseconds. */
const LONGEST_MS = 15 * 60_000;

const markOf = (path: string): string => `${path}.sweeping`;

/** Whether a database file is being swept, as far as is known: a program that was killed may have left its mark. */
export function isSwept(path: string): boolean {
  const mark = statSync(markOf(path), { throwIfNoEntry: false });
  return mark !== undefined && Date.now() - mark.mtimeMs < LONGEST_MS;
}

/** Says, beside the file, that it is being swept for as long as the work takes: writers wait for it and do not give up. */
export async function whileSwept(path: string, work: () => Promise<void>): Promise<void> {
  writeFileSync(markOf(path), '', { mode: 0o600 });
  try {
    await work();
  } finally {
    rmSync(markOf(path), { force: true });
  }
}
