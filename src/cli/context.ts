import { type Command, InvalidArgumentError } from 'commander';
import { parseDay } from '../core/days/calendar.js';
import { momentOf } from '../core/ledger/moment.js';
import { ServiceError } from '../errors.js';
import { BY_COMMAND } from '../flow/entry.js';
import { openStanchion, readConfig, type Stanchion } from '../main.js';
import type { HandleKind } from '../ports/handles.js';
import type { Tx } from '../ports/store.js';
import { type Day, type Instant, instant } from '../units.js';
import { type Output, openOutput } from './output.js';

export { BY_COMMAND };

export interface Globals {
  readonly data?: string;
  readonly json?: boolean;
  readonly now?: Instant;
}

/** What a command works with; `close` lets go of the store. */
export interface Context {
  readonly out: Output;
  readonly now: Instant | null;
}

export const contextOf = (command: Command): Context => {
  const { json, now } = command.optsWithGlobals<Globals>();
  return { out: openOutput(json ?? false), now: now ?? null };
};

/** The time of this call: that of `--now`, else the machine's. */
export const timeOf = ({ now }: Context): Instant => now ?? instant(Date.now());

export const configOf = (command: Command, port?: number): ReturnType<typeof readConfig> => {
  const { data } = command.optsWithGlobals<Globals>();
  return readConfig({
    ...process.env,
    ...(data === undefined ? {} : { STANCHION_DATA: data }),
    ...(port === undefined ? {} : { PORT: String(port) }),
  });
};

/** Opens the data folder for a command and closes it whatever happens. */
export async function withStanchion<T>(
  command: Command,
  options: { readonly make?: boolean; readonly runsOn?: boolean; readonly port?: number },
  work: (stanchion: Stanchion) => Promise<T>,
): Promise<T> {
  const { now } = contextOf(command);
  const { port, ...rest } = options;
  const stanchion = await openStanchion(configOf(command, port), { now, ...rest });
  try {
    return await work(stanchion);
  } finally {
    await stanchion.close();
  }
}

/** Errors: `not-found`, naming the handle. */
export async function getByHandle(tx: Tx, kind: HandleKind, handle: string): Promise<string> {
  const id = await tx.handles.find(kind, handle);
  if (id !== undefined) return id;
  throw new ServiceError('not-found', 'find what was named', `There is no ${kind} "${handle}".`);
}

export function dayArgument(text: string): Day {
  const day = parseDay(text);
  if (day === null) throw new InvalidArgumentError('It must be a day, YYYY-MM-DD.');
  return day;
}

export function timeArgument(text: string): Instant {
  const at = momentOf(text, 'Etc/UTC');
  if (at === null)
    throw new InvalidArgumentError('It must be a time in ISO 8601, such as 2025-05-20T08:00:00Z.');
  return at;
}

/** Returns a day or a time as it was typed; what a day means is for the workshop's zone to say. */
export function momentArgument(text: string): string {
  if (momentOf(text, 'Etc/UTC') !== null) return text;
  throw new InvalidArgumentError(
    'It must be a day, such as 2025-06-12, or a time with its zone, such as 2025-06-12T08:00:00Z.',
  );
}

export function minutesArgument(text: string): number {
  const minutes = Number(text);
  if (!(minutes > 0 && minutes <= 1440))
    throw new InvalidArgumentError('It must be minutes, from more than 0 to 1440.');
  return minutes;
}

export const listArgument = (text: string): string[] =>
  text === 'none' ? [] : text.split(',').map((part) => part.trim());
