/** Which jobs before races find their time on the bench, day by day. */
import type { Day } from '../../units.js';
import { openDaysIn } from './openDays.js';
import { type Bench, type BenchWork, isFree } from './slots.js';

/** What goes first: what must be done first, or the shortest, so that more get done. */
export const BENCH_ORDERS = ['due-first', 'short-first'] as const;
export type BenchOrder = (typeof BENCH_ORDERS)[number];

/** A job that must be done by a day. */
export interface BenchTask {
  readonly minutes: number;
  /** Null where no open day is left before. */
  readonly by: Day | null;
  /** It has a day already, which stands among what is taken. */
  readonly booked: Day | null;
}

/**
 * Returns for each task the first open day on which it finds its time, or null where it finds none by its day. Shape: in
 * the order of the tasks, of which an earlier one comes first where nothing else tells them apart.
 */
export function placeOnBench(
  bench: Bench,
  taken: readonly BenchWork[],
  tasks: readonly BenchTask[],
  { today, order }: { readonly today: Day; readonly order: BenchOrder },
): (Day | null)[] {
  const work = [...taken];
  const days: (Day | null)[] = tasks.map(({ booked, by }) =>
    booked !== null && by !== null && booked <= by ? booked : null,
  );
  const byDay = (a: BenchTask, b: BenchTask): number =>
    (a.by ?? '') < (b.by ?? '') ? -1 : (a.by ?? '') > (b.by ?? '') ? 1 : 0;
  const inTurn = tasks
    .map((task, place) => ({ task, place }))
    .filter(({ place }) => days[place] === null)
    .sort(
      (a, b) =>
        (order === 'short-first' ? a.task.minutes - b.task.minutes : 0) ||
        byDay(a.task, b.task) ||
        a.place - b.place,
    );
  for (const { task, place } of inTurn) {
    if (task.by === null || task.by < today) continue;
    const day = openDaysIn(bench, today, task.by).find((one) => isFree(bench, work, one, task.minutes));
    if (day === undefined) continue;
    work.push({ day, minutes: task.minutes });
    days[place] = day;
  }
  return days;
}
