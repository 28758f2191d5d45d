import { dayOf } from '../core/calendar.js';
import type { HoursFact, UnrecordedFact } from '../core/facts.js';
import { LARGEST_SHARE } from '../core/unrecorded.js';
import { ServiceError } from '../errors.js';
import type { Tx } from '../ports.js';
import type { Instant } from '../units.js';
import { refuse } from './refuse.js';
import { getWorkshop } from './settings.js';

async function checkBike(tx: Tx, bikeId: string): Promise<void> {
  if (!(await tx.facts.current('bike', bikeId)))
    throw new ServiceError('not-found', 'enter hours', 'There is no such bike.');
}

/** Errors: `refused`, `not-found`. */
export async function checkHours(tx: Tx, { bikeId, on, minutes }: HoursFact, at: Instant): Promise<void> {
  await checkBike(tx, bikeId);
  if (!(minutes > 0 && minutes <= 24 * 60))
    refuse('The minutes must be more than 0 and at most 1440, a whole day.');
  if (on > dayOf(at, (await getWorkshop(tx)).timeZone))
    refuse(`${on} has not come yet; hours are entered when they are ridden.`);
}

/** Errors: `refused`, naming the one that it overlaps; `not-found`. */
export async function checkUnrecorded(
  tx: Tx,
  { bikeId, from, to, share }: UnrecordedFact,
  entityId: string | null,
): Promise<void> {
  await checkBike(tx, bikeId);
  if (!(share > 0 && share <= LARGEST_SHARE))
    refuse(
      `The unrecorded share must be more than 0 and at most ${LARGEST_SHARE * 100} % of all riding.`,
      'Where hardly any riding was recorded, enter its hours by hand.',
    );
  if (to !== null && to <= from) refuse(`The time must end after it begins: ${from} to ${to}.`);
  const other = (await tx.facts.list('unrecorded', { subject: bikeId })).find(
    ({ entityId: id, body }) =>
      id !== entityId && (body.to === null || from < body.to) && (to === null || body.from < to),
  );
  if (other)
    refuse(
      `A share of ${other.body.from} to ${other.body.to ?? 'now'} is entered for this bike already (fact ${other.id}).`,
      'Correct that one, or enter another time.',
    );
}
