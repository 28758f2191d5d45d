import { refreshAllDue } from './due/refreshDue.js';
import { deliverOutbox } from './mail/deliverOutbox.js';
import { queueNotices } from './mail/queueNotices.js';
import { type ScanDeps, scanInboxOnce } from './take/scanInbox.js';

/** What is left out while it would take too much of the time, unless there is news. */
export type Sparing = (work: () => Promise<unknown>, isNews: boolean) => Promise<void>;

export interface Beat {
  /** Told when the drop folder was seen to its end. */
  readonly scanned: () => void;
  /** Deciding what to tell looks at every unit and rider. */
  readonly sparing: Sparing;
}

/** Reminders: brings forecasts up to date and decides today's notices. */
export async function remind(deps: ScanDeps, sparing: Sparing, isNews = false): Promise<void> {
  const isDueNews = await refreshAllDue(deps);
  await sparing(() => queueNotices(deps), isNews || isDueNews);
}

/** Everything once, in this order, so that one mail tells of all that a delivery of files changed. */
export async function beat(deps: ScanDeps, { scanned, sparing }: Beat): Promise<void> {
  let isNews = false;
  while (await scanInboxOnce(deps)) isNews = true;
  scanned();
  await remind(deps, sparing, isNews);
  await deliverOutbox(deps);
}
