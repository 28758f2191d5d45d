import { dayOf } from '../../core/days/calendar.js';
import type { GoneFact } from '../../core/ledger/facts.js';
import { afterLastRideOf } from '../../core/ledger/moment.js';
import { absencesOf, goneOn } from '../../core/ledger/whereabouts.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { listFittings, readMoment } from './unitFittings.js';

/** Errors: `refused` for a day to come, for what is gone already or is there, and where it was put on a bike since. */
export async function checkGone(
  tx: Tx,
  { entityId, after }: { readonly entityId: string | null; readonly after: GoneFact },
  at: Instant,
): Promise<void> {
  const { unitId, how, on } = after;
  const { timeZone } = await getWorkshop(tx);
  const tag = (await tx.facts.current('unit', unitId))?.body.tag ?? '';
  if (on > dayOf(at, timeZone)) refuse('gone-to-come', { on });
  const others = (await tx.facts.list('gone', { subject: unitId })).filter(
    (fact) => fact.entityId !== entityId,
  );
  const gone = goneOn(
    others.map(({ body }) => body),
    on,
  );
  if (how === 'back') {
    if (gone === null) refuse('not-gone', { tag });
    return;
  }
  if (gone !== null) refuse('is-gone', { tag, ...gone });
  const all = absencesOf([...others.map(({ body }) => body), after]);
  const absence = all.find((one) => one.on === on)!;
  for (const { fact, from, to } of await listFittings(tx, unitId, timeZone)) {
    const begins = dayOf(from, timeZone);
    const isBefore = to !== null && to <= readMoment(afterLastRideOf(on, timeZone), timeZone);
    if (isBefore || (absence.back !== null && begins >= absence.back)) continue;
    const bike = (await tx.facts.current('bike', fact.body.bikeId))?.body.handle ?? '';
    refuse('fitted-since', { tag, bike, from: fact.body.from });
  }
}
