import type { FittingFact, Moment } from '../core/facts.js';
import type { Fitting } from '../core/ledger.js';
import { momentOf } from '../core/moment.js';
import type { UnitKind } from '../core/tokens.js';
import { ServiceError } from '../errors.js';
import type { Tx } from '../ports.js';
import { type Instant, isoTime } from '../units.js';
import { getWorkshop } from './settings.js';
import { fittingOf } from './unitLedger.js';

export const refuseFitting = (message: string, hint?: string): never => {
  throw new ServiceError('refused', 'change a fitting', message, hint === undefined ? {} : { hint });
};

/** Errors: `refused` where the text is neither a day nor a time. */
export const readMoment = (text: Moment, zone: string): Instant =>
  momentOf(text, zone) ??
  refuseFitting(`"${text}" is neither a day (YYYY-MM-DD) nor a time with its zone (ISO 8601).`);

/** Errors: `refused` where it ends before it begins, the unit is elsewhere then, or the bike has another in that place. */
export async function checkFitting(tx: Tx, body: FittingFact, entityId: string | null): Promise<void> {
  const { timeZone: zone } = await getWorkshop(tx);
  const from = readMoment(body.from, zone);
  const to = body.to === null ? null : readMoment(body.to, zone);
  if (to !== null && to <= from) refuseFitting('A fitting must end after it begins.');
  await checkFree(tx, { ...body, id: entityId ?? '', from, to }, zone);
}

/** Where on a bike a unit goes: each place holds one. */
export const placeOf = (unitKind: UnitKind): string => (unitKind === 'fork' ? 'fork' : 'rear shock');

const overlap = (a: Fitting, b: Fitting): boolean =>
  a.from < (b.to ?? Number.POSITIVE_INFINITY) && b.from < (a.to ?? Number.POSITIVE_INFINITY);

async function checkFree(tx: Tx, wanted: Fitting, zone: string): Promise<void> {
  const unit = await tx.facts.current('unit', wanted.unitId);
  if (!unit || !(await tx.facts.current('bike', wanted.bikeId)))
    throw new ServiceError('not-found', 'change a fitting', 'There is no such unit or bike any more.');
  const others = [
    ...(await tx.facts.list('fitting', { subject: wanted.unitId })),
    ...(await tx.facts.list('fitting', { object: wanted.bikeId })),
  ].map((fact) => fittingOf(fact, zone));
  for (const other of others) {
    if (other.id === wanted.id || !overlap(other, wanted)) continue;
    const span = `from ${isoTime(other.from)}${other.to === null ? ' on' : ` to ${isoTime(other.to)}`}`;
    const bike = (await tx.facts.current('bike', other.bikeId))?.body.handle;
    if (other.unitId === wanted.unitId)
      refuseFitting(
        `${unit.body.tag} is on bike ${bike} ${span}.`,
        'Take it off first, or swap the two units.',
      );
    const otherUnit = await tx.facts.current('unit', other.unitId);
    if (otherUnit && placeOf(unit.body.unitKind) === placeOf(otherUnit.body.unitKind))
      refuseFitting(
        `Bike ${bike} has ${otherUnit.body.tag} as its ${placeOf(unit.body.unitKind)} ${span}.`,
        'Take that one off first, or swap the two units.',
      );
  }
}
