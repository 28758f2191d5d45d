import { pino } from 'pino';
import type { Log } from './ports/log.js';

/** Returns a log of JSON lines on stderr, its times in UTC; what is said on stdout is for people and scripts. */
export function openLog(level = 'info'): Log {
  const options = {
    level,
    base: null,
    timestamp: pino.stdTimeFunctions.isoTime,
    // An error has no fields of its own to be written.
    serializers: { error: pino.stdSerializers.err },
  };
  const log = pino(options, pino.destination({ dest: 2, sync: true }));
  return {
    info: (what, message) => log.info(what, message),
    error: (what, message) => log.error(what, message),
  };
}
