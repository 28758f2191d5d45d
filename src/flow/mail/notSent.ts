/** Mails that were written down for want of a relay. */
import { isLetter } from '../../core/notices/notice/notice.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Instant } from '../../units.js';

/** An answer that is older than this would surprise its reader. */
const STILL_WANTED_MS = 2 * DAY_MS;

/** Lets answers of the last days be written anew and sent, now that there is a relay; older ones are withdrawn. */
export async function sendLettersAgain(tx: Tx, now: Instant): Promise<void> {
  for (const { id, mail, queuedAt } of await tx.mails.listIn('not-sent')) {
    if (!isLetter(mail)) continue;
    const isWanted = now - queuedAt <= STILL_WANTED_MS;
    await tx.mails.update(
      id,
      isWanted
        ? { state: 'waiting', nextTryAt: now, written: null, told: null, tries: 0 }
        : { state: 'withdrawn', settledAt: now },
    );
  }
}
