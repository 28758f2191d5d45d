import { dayOf } from '../core/days/calendar.js';
import type { WorkshopFact } from '../core/ledger/facts.js';
import { ServiceError } from '../errors.js';
import type { Tx } from '../ports/store.js';
import type { Day } from '../units.js';
import type { Entry } from './entry.js';
import { replaceFact } from './facts/changeFact.js';
import { findWorkshop, hasBegun } from './settings.js';

/**
 * Lets reminders begin today, or rest. Returns the fact's id, or null where they did already.
 * Errors: `refused` where there is no workshop yet.
 */
export async function setBegun(tx: Tx, isOn: boolean, entry: Entry): Promise<string | null> {
  const fact = await findWorkshop(tx);
  if (!fact) {
    throw new ServiceError('refused', 'There is no workshop in this data folder yet.', {
      hint: 'Give it its name on the page (stanchion serve), or import it: stanchion import FILE.json',
    });
  }
  const today = dayOf(entry.at, fact.body.timeZone);
  if (hasBegun(fact.body, today) === isOn && (isOn || fact.body.remindersFrom == null)) return null;
  return putBegun(tx, fact.id, fact.body, isOn ? today : null, entry);
}

async function putBegun(
  tx: Tx,
  factId: string,
  workshop: WorkshopFact,
  remindersFrom: Day | null,
  entry: Entry,
): Promise<string> {
  const body = { ...workshop, remindersFrom };
  return (await replaceFact(tx, factId, { kind: 'workshop', body }, entry)).id;
}

/**
 * Says of a store from before the rule whether reminders have begun: they have if a relay ever took a mail. Mails that
 * were only written down then count as not sent.
 */
export async function judgeBefore(
  tx: Tx,
  wasKeptOnly: (messageId: string) => boolean,
  entry: Entry,
): Promise<void> {
  const fact = await findWorkshop(tx);
  if (!fact || fact.body.remindersFrom !== undefined) return;
  let isBegun = (await tx.mails.listIn('refused')).length > 0;
  for (const mail of await tx.mails.listIn('handed-over')) {
    if (!wasKeptOnly(mail.messageId)) isBegun = true;
    else await tx.mails.update(mail.id, { state: 'not-sent', tries: 0, settledAt: null });
  }
  const from = isBegun ? dayOf(entry.at, fact.body.timeZone) : null;
  await putBegun(tx, fact.id, fact.body, from, entry);
}
