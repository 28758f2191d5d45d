import type { Turn } from '../ports/loops.js';
import { findClockDoubt } from './clockDoubt.js';
import type { Deps } from './deps.js';
import { refreshDueOnce } from './due/refreshDue.js';
import { queueNotices } from './mail/queueNotices.js';

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
  await sparing(() => queueNotices(deps), isDueNews);
  return false;
}
