import type { Log } from './ports/log.js';
import type { LoopPulse } from './ports/loops.js';

/** From the end of a step to the begin of the next. Units: milliseconds. */
const PAUSE_MS = 5000;

export interface Loop {
  readonly name: string;
  pulse(): LoopPulse;
  /** Resolves once the step that is under way has ended. */
  stop(): Promise<void>;
}

/**
 * Repeats a step with a pause after each, never two at a time; failed work is told and tried again. The pause is counted
 * by a clock that only runs forward: a bell by the time of day stands still for an hour when that is set back by one.
 */
export function startLoop(
  name: string,
  step: () => Promise<void>,
  log: Log,
  { pauseMs = PAUSE_MS }: { readonly pauseMs?: number } = {},
): Loop {
  let isStopped = false;
  let timer: NodeJS.Timeout | undefined;
  let beganAt: number | null = null;
  let endedAt: number | null = null;
  let failedInARow = 0;
  const stroke = async (): Promise<void> => {
    beganAt = performance.now();
    try {
      await step();
      failedInARow = 0;
    } catch (error) {
      failedInARow += 1;
      log.error({ loop: name, error: messageOf(error) }, 'a step failed and is tried again');
    }
    beganAt = null;
    endedAt = performance.now();
    if (!isStopped) timer = setTimeout(() => (running = stroke()), pauseMs);
  };
  let running = stroke();
  const since = (at: number | null): number | null => (at === null ? null : (performance.now() - at) / 1000);
  return {
    name,
    pulse: () => ({
      name,
      runningS: since(beganAt),
      sinceEndedS: since(endedAt),
      pauseS: pauseMs / 1000,
      failedInARow,
    }),
    stop: async () => {
      isStopped = true;
      clearTimeout(timer);
      await running;
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

const messageOf = (error: unknown): string =>
  error instanceof Error ? (error.stack ?? error.message) : String(error);

/** Resolves when the process is asked to end. */
export const untilAskedToStop = (): Promise<void> =>
  new Promise((resolve) => {
    process.once('SIGTERM', resolve);
    process.once('SIGINT', resolve);
  });
