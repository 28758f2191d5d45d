import { CLOCK_SET_MS } from './clock.js';
import type { Span, TimerEvent } from './recording.js';

/** Stretches in which the timer ran, and those written after a stop that no start follows. */
export interface TimerSpans {
  readonly spans: readonly Span[];
  readonly unstarted: readonly Span[];
}

/**
 * Returns the stretches in which the timer ran. Without events it ran throughout. Before the first start it ran too:
 * a recorder of several sports may write events for the last one only. A later start without a stop before it ends a
 * span as well, for the recorder had died.
 */
export function spansBetweenStops(timeMs: Float64Array, events: readonly TimerEvent[]): TimerSpans {
  const spans: Span[] = [];
  const unstarted: Span[] = [];
  const close = (from: number, to: number, into = spans): void => {
    if (to > from) into.push({ from, to });
  };
  let from = 0;
  let running = true;
  for (const [i, event] of usable(events, timeMs).entries()) {
    if (event.running && i === 0) continue;
    if (event.running) {
      const at = Math.max(
        from,
        firstRow(timeMs, (time) => time >= event.atMs),
      );
      if (running) close(from, at);
      from = at;
    } else {
      const at = Math.max(
        from,
        firstRow(timeMs, (time) => time > event.atMs),
      );
      close(from, at, running ? spans : unstarted);
      from = at;
    }
    running = event.running;
  }
  close(from, timeMs.length, running ? spans : unstarted);
  return { spans, unstarted };
}

/** Events in time order; those from before the clock was set say nothing about samples from after. */
function usable(events: readonly TimerEvent[], timeMs: Float64Array): TimerEvent[] {
  if (timeMs.length === 0 || Number.isNaN(timeMs[0]!)) return [];
  const clockSet = timeMs[0]! >= CLOCK_SET_MS;
  return events.filter((event) => event.atMs >= CLOCK_SET_MS === clockSet).sort((a, b) => a.atMs - b.atMs);
}

function firstRow(timeMs: Float64Array, holds: (time: number) => boolean): number {
  let low = 0;
  let high = timeMs.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(timeMs[middle]!)) high = middle;
    else low = middle + 1;
  }
  return low;
}
