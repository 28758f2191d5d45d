import { type ScheduledTask, schedule } from 'node-cron';

/** Rings at times of the day. What is due is decided from stored times: a bell that is lost or doubled changes nothing. */
export interface Bell {
  /** Five fields: minute, hour, day of the month, month, day of the week. */
  readonly at: string;
  readonly ring: () => void;
}

export interface Bells {
  /** Hangs these in place of the others, on the clocks of a zone; the same again changes nothing. */
  hang(bells: readonly Bell[], zone: string): void;
  stop(): void;
}

/** Returns no bells yet. They keep no program from ending. */
export function openBells(): Bells {
  let hung: ScheduledTask[] = [];
  let now = '';
  const stop = (): void => {
    for (const task of hung) void task.destroy();
    hung = [];
    now = '';
  };
  return {
    stop,
    hang: (bells, zone) => {
      const asked = `${zone} ${bells.map(({ at }) => at).join(', ')}`;
      if (asked === now) return;
      stop();
      now = asked;
      hung = bells.map(({ at, ring }) =>
        schedule(at, ring, { timezone: zone, noOverlap: true, suppressMissedWarning: true, unref: true }),
      );
    },
  };
}
