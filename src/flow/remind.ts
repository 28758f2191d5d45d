import type { Turn } from '../ports/loops.js';
import { findClockDoubt } from './clockDoubt.js';
import type { Deps } from './deps.js';
import { refreshDueOnce } from './due/refreshDue.js';
import { type Decided, queueNotices } from './mail/queueNotices.js';

/** What is left out while it would take too much of the time, unless there is news. */
export type Sparing = (work: () => Promise<unknown>, isNews: boolean) => Promise<void>;

/**
 * Brings some forecasts up to date and, once all are, decides today's notices; true for more forecasts to bring up to
 * date. Deciding looks at every unit and rider, so it is spared while nothing changed. While the clock is
 * doubted no forecast is made by it.
 */
export async function remindOnce(
  deps: Deps,
  turn: Turn,
  { sparing, isNews }: { readonly sparing: Sparing; readonly isNews: boolean },
): Promise<boolean> {
  let isDueNews = isNews;
  turn.doing('bringing forecasts up to date');
  const doubt = await deps.store.read((tx) => findClockDoubt(tx, deps.clock));
  const refresh = async () => (doubt === null ? refreshDueOnce(deps) : 'nothing');
  for (let step = await refresh(); step !== 'nothing'; step = await refresh()) {
    isDueNews = true;
    if (step === 'some') break;
    if (turn.isOver()) return true;
  }
  turn.doing('deciding what to tell');
  await sparing(() => decide(deps), isDueNews);
  return false;
}

/** A round in which nothing is new is not worth a line. */
async function decide(deps: Deps): Promise<void> {
  const began = performance.now();
  const decided = await queueNotices(deps);
  const count = (decision: Decided['decision']): number =>
    decided.filter((one) => one.decision === decision).length;
  const [queued, withdrawn] = [count('queue'), count('withdraw')];
  if (queued + withdrawn === 0) return;
  const ms = Math.round(performance.now() - began);
  deps.log.info({ queued, withdrawn, held: count('hold'), ms }, 'reminders were decided');
}
