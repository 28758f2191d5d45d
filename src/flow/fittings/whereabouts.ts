/** Whose a unit is, and that it leaves for good or comes back. */
import type { GoneFact, MembershipFact } from '../../core/ledger/facts.js';
import { afterLastRideOf } from '../../core/ledger/moment.js';
import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { addFact } from '../facts/changeFact.js';
import { follow, nothingTouched, type Touched } from '../facts/touched.js';
import { getWorkshop } from '../settings.js';
import { endFitting } from './fittings.js';
import { listFittings, readMoment } from './unitFittings.js';

/** Says which fleet a unit belongs to from a day on, whatever bike it is on. Returns the fact's id. */
export const setFleet = async (tx: Tx, body: MembershipFact, entry: Entry): Promise<string> =>
  (await addFact(tx, { kind: 'membership', body }, entry)).id;

/**
 * Says that a unit left for good, after that day's last ride, or came back. Whatever it is on loses it. Returns the ids of
 * the facts. Errors: `refused` for a day to come, for what is gone already or is there, and where it was put on a bike
 * since.
 */
export async function setGone(tx: Tx, body: GoneFact, entry: Entry, touched?: Touched): Promise<string[]> {
  const own = touched ?? nothingTouched();
  const ids = body.how === 'back' ? [] : await takeOff(tx, body, entry, own);
  ids.push((await addFact(tx, { kind: 'gone', body }, entry, own)).id);
  if (!touched) await follow(tx, own, entry.at);
  return ids;
}

async function takeOff(tx: Tx, { unitId, on }: GoneFact, entry: Entry, touched: Touched): Promise<string[]> {
  const { timeZone } = await getWorkshop(tx);
  const evening = afterLastRideOf(on, timeZone);
  const at = readMoment(evening, timeZone);
  const isOn = (await listFittings(tx, unitId, timeZone)).some(
    ({ from, to }) => from < at && (to === null || to > at),
  );
  return isOn ? [await endFitting(tx, unitId, evening, entry, touched)] : [];
}
