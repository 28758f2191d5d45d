import { deliverOutbox } from './deliverOutbox.js';
import { queueNotices } from './queueNotices.js';
import { refreshAllDue } from './refreshDue.js';
import { type ScanDeps, scanInboxOnce } from './scanInbox.js';

/** Reminders: brings forecasts up to date, decides today's notices, and hands over what waits. */
export async function remind(deps: ScanDeps): Promise<void> {
  await refreshAllDue(deps);
  await queueNotices(deps);
  await deliverOutbox(deps);
}

/**
 * Everything once, in this order, so that one mail tells of all that a delivery of files changed; `scanned` is told
 * when the drop folder was seen to its end.
 */
export async function beat(deps: ScanDeps, scanned: () => void): Promise<void> {
  while (await scanInboxOnce(deps));
  scanned();
  await remind(deps);
}
