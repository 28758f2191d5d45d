import { ServiceError } from './errors.js';
import type { Log } from './ports/log.js';
import type { LoopPulse, Step } from './ports/loops.js';
import { secondsIn } from './units.js';

/** A step that was asked to end may finish what it has begun before that is broken off. Units: milliseconds. */
const GRACE_MS = 2000;

/** Units: milliseconds. */
export interface LoopTimes {
  /** From the end of a step that left nothing to do to the begin of the next. */
  readonly pauseMs: number;
  /** A step leaves the rest to the next after so long. */
  readonly turnMs: number;
  /** A step that takes longer hangs, which is said. */
  readonly longestMs: number;
}

export interface Loop {
  readonly name: string;
  pulse(): LoopPulse;
  /** Begins the next step at once, or one more right after the one under way. */
  ring(): void;
  /** Asks the step that is under way to end, and breaks it off after seconds; resolves once it has ended. */
  stop(): Promise<void>;
}

/**
 * Repeats a step with a pause after each that leaves nothing to do, never two at a time; failed work is told and tried
 * again. The pause is counted by a clock that only runs forward: no jump of the machine's clock holds it up.
 */
export function startLoop(
  name: string,
  step: Step,
  log: Log,
  { pauseMs, turnMs, longestMs }: LoopTimes,
): Loop {
  const broken = new AbortController();
  let isAsked = false;
  let timer: NodeJS.Timeout | undefined;
  let beganAt: number | null = null;
  let endedAt: number | null = null;
  let failedInARow = 0;
  let failingSince: number | null = null;
  let doing: string | null = null;
  let left: number | null = null;
  let why: string | null = null;
  let isRung = false;
  const stroke = async (): Promise<void> => {
    const began = performance.now();
    beganAt = began;
    isRung = false;
    let isMore = false;
    try {
      isMore = await step({
        isOver: () => isAsked || performance.now() - began > turnMs,
        signal: broken.signal,
        doing: (what, still) => {
          doing = what;
          if (still !== undefined) left = still;
        },
      });
      if (failedInARow > 0) log.info({ loop: name, failed: failedInARow }, 'goes on again');
      failedInARow = 0;
      failingSince = null;
      why = null;
      if (!isMore) left = null;
    } catch (error) {
      // What was broken off because the program ends is taken up by the next start.
      if (!isAsked) {
        failedInARow += 1;
        failingSince ??= began;
        why = whyOf(error);
        log.error({ loop: name, error }, 'a step failed and is tried again');
      }
    }
    beganAt = null;
    doing = null;
    endedAt = performance.now();
    if (!isAsked) timer = setTimeout(begin, isMore || isRung ? 0 : pauseMs);
  };
  let running = Promise.resolve();
  const begin = (): void => {
    clearTimeout(timer);
    running = stroke();
  };
  begin();
  const since = (at: number | null): number | null =>
    at === null ? null : secondsIn(performance.now() - at);
  return {
    name,
    pulse: () => ({
      name,
      runningS: since(beganAt),
      sinceEndedS: since(endedAt),
      pauseS: secondsIn(pauseMs),
      failedInARow,
      failingS: since(failingSince),
      longestS: secondsIn(longestMs),
      doing,
      left,
      why,
    }),
    ring: () => {
      isRung = true;
      if (beganAt === null && !isAsked) begin();
    },
    stop: async () => {
      isAsked = true;
      clearTimeout(timer);
      const late = setTimeout(() => broken.abort(), GRACE_MS);
      await running;
      clearTimeout(late);
    },
  };
}

/** Work that is often for nothing takes at most one part of so many of the time. */
const SPARED_PARTS = 20;

/**
 * Returns what does a work only as often as its own length allows, or when there is news: a small workshop's is done each
 * time, that of ten thousand units once a minute.
 */
export function sparingly(): (work: () => Promise<unknown>, isNews: boolean) => Promise<void> {
  let restsUntil = Number.NEGATIVE_INFINITY;
  return async (work, isNews) => {
    const began = performance.now();
    if (!isNews && began < restsUntil) return;
    await work();
    const ended = performance.now();
    restsUntil = ended + (ended - began) * (SPARED_PARTS - 1);
  };
}

/** For whoever asks how the program is: words of this program alone, which name nobody. */
const whyOf = (error: unknown): string =>
  error instanceof ServiceError ? error.message : 'a fault of this program, which is in its log';
