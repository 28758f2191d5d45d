import { addDays, dayOf } from '../../core/days/calendar.js';
import type { FittingFact } from '../../core/ledger/facts.js';
import type { Fitting } from '../../core/ledger/ledger.js';
import { afterLastRideOf } from '../../core/ledger/moment.js';
import { absencesOf } from '../../core/ledger/whereabouts.js';
import type { UnitKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, isoTime } from '../../units.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';
import { readMoment } from './unitFittings.js';

/** A swap may be typed on the evening before; a year that is wrong lies further ahead. */
const DAYS_AHEAD = 7;

interface ProposedFitting {
  /** Null for a new one. */
  readonly entityId: string | null;
  readonly before: FittingFact | null;
  readonly after: FittingFact;
}

/**
 * Errors: `refused` where it begins later than people plan or ends before it begins; where the unit is elsewhere then,
 * or the bike has another in that place.
 */
export async function checkFitting(
  tx: Tx,
  { entityId, before, after }: ProposedFitting,
  at: Instant,
): Promise<void> {
  const { timeZone: zone } = await getWorkshop(tx);
  const from = readMoment(after.from, zone);
  const to = after.to === null ? null : readMoment(after.to, zone);
  // One that was stored so may still be ended.
  if (before?.from !== after.from && dayOf(from, zone) > addDays(dayOf(at, zone), DAYS_AHEAD))
    refuse('fitting-to-come', { from: after.from });
  if (to !== null && to <= from) refuse('fitting-ends');
  await checkThere(tx, { ...after, from, to }, zone);
  await checkFree(tx, { ...after, id: entityId ?? '', from, to }, zone);
}

/** What is sold is on no bike. */
async function checkThere(
  tx: Tx,
  { unitId, from, to }: { readonly unitId: string; readonly from: Instant; readonly to: Instant | null },
  zone: string,
): Promise<void> {
  const departures = (await tx.facts.list('gone', { subject: unitId })).map(({ body }) => body);
  for (const { how, on, back } of absencesOf(departures)) {
    const isBefore = to !== null && to <= readMoment(afterLastRideOf(on, zone), zone);
    if (isBefore || (back !== null && from >= readMoment(back, zone))) continue;
    refuse('is-gone', { tag: (await tx.facts.current('unit', unitId))?.body.tag ?? '', how, on });
  }
}

/** Where on a bike a unit goes: each place holds one. */
export const BIKE_PLACES = ['fork', 'rear shock'] as const;
export type BikePlace = (typeof BIKE_PLACES)[number];
export const placeOf = (unitKind: UnitKind): BikePlace => (unitKind === 'fork' ? 'fork' : 'rear shock');

const overlap = (a: Fitting, b: Fitting): boolean =>
  a.from < (b.to ?? Number.POSITIVE_INFINITY) && b.from < (a.to ?? Number.POSITIVE_INFINITY);

async function checkFree(tx: Tx, wanted: Fitting, zone: string): Promise<void> {
  const unit = await tx.facts.current('unit', wanted.unitId);
  if (!unit || !(await tx.facts.current('bike', wanted.bikeId)))
    throw new ServiceError('not-found', 'There is no such unit or bike any more.');
  const others = [
    ...(await tx.facts.list('fitting', { subject: wanted.unitId })),
    ...(await tx.facts.list('fitting', { object: wanted.bikeId })),
  ].map((fact) => fittingOf(fact, zone));
  for (const other of others) {
    if (other.id === wanted.id || !overlap(other, wanted)) continue;
    const span = { from: isoTime(other.from), to: other.to === null ? null : isoTime(other.to) };
    const bike = (await tx.facts.current('bike', other.bikeId))?.body.handle ?? '';
    if (other.unitId === wanted.unitId) refuse('is-elsewhere', { tag: unit.body.tag, bike, span });
    const otherUnit = await tx.facts.current('unit', other.unitId);
    if (otherUnit && placeOf(unit.body.unitKind) === placeOf(otherUnit.body.unitKind))
      refuse('place-taken', { bike, tag: otherUnit.body.tag, place: placeOf(unit.body.unitKind), span });
  }
}
