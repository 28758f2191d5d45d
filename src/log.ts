import { pino } from 'pino';
import type { Log } from './ports.js';

/** Returns a log of JSON lines on stderr; what is said on stdout is for people and scripts. */
export function openLog(level = 'info'): Log {
  const log = pino({ level, base: null }, pino.destination({ dest: 2, sync: true }));
  return {
    info: (what, message) => log.info(what, message),
    error: (what, message) => log.error(what, message),
  };
}
