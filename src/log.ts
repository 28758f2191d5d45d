import { createHash } from 'node:crypto';
import { pino } from 'pino';
import type { Log } from './ports/log.js';
import { MINUTE_MS } from './units.js';

/** The same fault is written once, then counted: how often it came again is told after each so long. */
const COUNTED_MS = 10 * MINUTE_MS;
const MOST_KEPT = 100;

/** Returns a log of JSON lines on stderr, its times in UTC; what is said on stdout is for people and scripts. */
export function openLog(level: 'info' | 'error' = 'info', destination?: pino.DestinationStream): Log {
  const options = {
    level,
    base: null,
    timestamp: pino.stdTimeFunctions.isoTime,
    serializers: { error: faultOf },
  };
  const log = pino(options, destination ?? pino.destination({ dest: 2, sync: true }));
  const repeats = new Map<string, number>();
  const count = (key: string, message: string): void => {
    repeats.set(key, 0);
    if (repeats.size > MOST_KEPT) repeats.delete(repeats.keys().next().value!);
    const tell = (): void => {
      const times = repeats.get(key);
      repeats.delete(key);
      if (times) log.error({ times, fault: key }, `again: ${message}`);
      if (times) count(key, message);
    };
    setTimeout(tell, COUNTED_MS).unref();
  };
  return {
    info: (what, message) => log.info(what, message),
    error: (what, message) => {
      const key = keyOf(what, message);
      const times = repeats.get(key);
      if (times !== undefined) return void repeats.set(key, times + 1);
      count(key, message);
      log.error({ ...what, fault: key }, message);
    },
  };
}

/** What makes two faults the same: what was tried, and what failed, all the way down to its cause. */
function keyOf({ error, ...what }: Readonly<Record<string, unknown>>, message: string): string {
  const failed = chainOf(error).map((one) => [one.name, codeOf(one), scrubbed(one.message, [one])]);
  return shortHash(JSON.stringify([message, what, failed]));
}

/** Short enough to be read out, long enough not to meet another. */
const shortHash = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 8);

/** An error and its causes; something else that was thrown stands for itself. */
function chainOf(thrown: unknown): Error[] {
  const chain: Error[] = [];
  for (let one = thrown; one !== undefined && one !== null && chain.length < 5; ) {
    const error = one instanceof Error ? one : new Error(String(one));
    chain.push(error);
    one = error.cause;
  }
  return chain;
}

const codeOf = (error: Error): string | undefined =>
  'code' in error && error.code !== undefined ? String(error.code) : undefined;

interface LoggedFault {
  readonly code?: string | undefined;
  readonly message: string;
  readonly hint?: string;
  readonly stack?: string | undefined;
  readonly cause?: LoggedFault;
}

/** Returns what a line says of an error: code, words and stack, and the same of its cause, which is often what to mend. */
function faultOf(thrown: unknown): LoggedFault | undefined {
  const chain = chainOf(thrown);
  return chain.reduceRight<LoggedFault | undefined>((cause, error) => {
    const hint =
      'hint' in error && typeof error.hint === 'string' ? { hint: scrubbed(error.hint, chain) } : {};
    const told = { code: codeOf(error), message: scrubbed(error.message, chain), ...hint };
    return { ...told, stack: scrubbed(error.stack ?? '', chain), ...(cause && { cause }) };
  }, undefined);
}

/** The names of files name people and places: a mark stands for each, the same for the same file. */
function scrubbed(text: string, chain: readonly Error[]): string {
  const named = chain.flatMap((error) =>
    ['path', 'dest'].flatMap((key) => {
      const value = (error as unknown as Record<string, unknown>)[key];
      return typeof value === 'string' && value !== '' ? [value] : [];
    }),
  );
  return named.reduce((so, path) => so.replaceAll(path, `file ${shortHash(path)}`), text);
}
