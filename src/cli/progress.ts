import { setImmediate } from 'node:timers/promises';
import { shownName } from '../core/lines.js';
import type { SayLeft } from '../ports/loops.js';

/** On stderr, how far a long piece of work is: a bar on a terminal, and elsewhere a line now and then. */
export interface Progress {
  /** So many more are to come. */
  expect(count: number): void;
  step(what: string): void;
  /** How many are still to come. */
  left(): number;
  /** Says something without the bar in its way. */
  above(say: () => void): void;
  done(): void;
}

const EVERY_MS = 100;
/** So long at most nobody who asks it to end is heard. */
const LOOK_UP_MS = 10;
/** Where nobody watches a line is enough for so many, and for so long. */
const EVERY_STEPS = 500;
const LOGGED_MS = 30_000;
const BAR_WIDTH = 20;

type Screen = Pick<NodeJS.WriteStream, 'write' | 'isTTY' | 'columns'>;

export function startProgress(noun = 'files', screen: Screen = process.stderr): Progress {
  const isWatched = screen.isTTY === true;
  const clear = () => (isWatched ? void screen.write('\r\u001b[2K') : undefined);
  let expected = 0;
  let count = 0;
  let last = Number.NEGATIVE_INFINITY;
  let lineAt = performance.now();
  const sofar = (): string => `${count} of ${Math.max(expected, count)} ${noun}`;
  return {
    expect: (more) => {
      expected += more;
    },
    step: (what) => {
      count += 1;
      const now = performance.now();
      if (!isWatched) {
        if (count % EVERY_STEPS !== 0 && now - lineAt < LOGGED_MS) return;
        lineAt = now;
        screen.write(`${sofar()}\n`);
        return;
      }
      if (now - last < EVERY_MS) return;
      last = now;
      const full = Math.min(BAR_WIDTH, Math.floor((count / Math.max(expected, count)) * BAR_WIDTH));
      const bar = `[${'#'.repeat(full)}${'.'.repeat(BAR_WIDTH - full)}]`;
      const line = `${bar} ${sofar()}  ${shownName(what)}`;
      screen.write(`\r\u001b[2K${line.slice(0, (screen.columns || 80) - 1)}`);
    },
    left: () => Math.max(0, expected - count),
    above: (say) => {
      clear();
      say();
    },
    done: clear,
  };
}

/** Says elsewhere too how far a command is. */
export interface Beside {
  say(left: number): void;
  done(): void;
}

const NOWHERE: Beside = { say: () => undefined, done: () => undefined };
const BESIDE_MS = 2000;

/**
 * On stderr, what is done and how much of it is left: on a terminal all the time, elsewhere every half minute. What takes
 * longer than a moment is said beside, for the pages.
 */
export function startTelling(
  beside: Beside = NOWHERE,
  screen: Screen = process.stderr,
): { readonly told: SayLeft; done(): void } {
  const isWatched = screen.isTTY === true;
  const everyMs = isWatched ? EVERY_MS : LOGGED_MS;
  let last = isWatched ? Number.NEGATIVE_INFINITY : performance.now();
  let yieldedAt = performance.now();
  let besideAt = performance.now();
  return {
    told: async (what, left) => {
      const now = performance.now();
      if (now - last >= everyMs) {
        last = now;
        const line = `${what}: ${left} left`;
        screen.write(isWatched ? `\r\u001b[2K${line.slice(0, (screen.columns || 80) - 1)}` : `${line}\n`);
      }
      if (now - besideAt >= BESIDE_MS) {
        besideAt = now;
        beside.say(left);
      }
      if (now - yieldedAt < LOOK_UP_MS) return;
      await setImmediate();
      yieldedAt = performance.now();
    },
    done: () => {
      beside.done();
      if (isWatched) screen.write('\r\u001b[2K');
    },
  };
}
