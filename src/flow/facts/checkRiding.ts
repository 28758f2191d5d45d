import { dayOf } from '../../core/days/calendar.js';
import { MOST_HOURS_A_WEEK } from '../../core/forecast/declared.js';
import type { DeclaredFact, HoursFact, UnrecordedFact } from '../../core/ledger/facts.js';
import { LARGEST_SHARE } from '../../core/ledger/unrecorded.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { DAY_MINUTES } from '../../units.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';

async function checkBike(tx: Tx, bikeId: string): Promise<void> {
  if (!(await tx.facts.current('bike', bikeId)))
    throw new ServiceError('not-found', 'There is no such bike.');
}

/** Errors: `refused`, `not-found`. */
export async function checkHours(tx: Tx, { bikeId, on, minutes }: HoursFact, at: Instant): Promise<void> {
  await checkBike(tx, bikeId);
  if (!(minutes > 0 && minutes <= DAY_MINUTES)) refuse('minutes');
  if (on > dayOf(at, (await getWorkshop(tx)).timeZone)) refuse('hours-to-come', { on });
}

/** Errors: `refused`, naming the one that it overlaps; `not-found`. */
export async function checkUnrecorded(
  tx: Tx,
  { bikeId, from, to, share }: UnrecordedFact,
  entityId: string | null,
): Promise<void> {
  await checkBike(tx, bikeId);
  if (!(share > 0 && share <= LARGEST_SHARE)) refuse('share-range', { most: LARGEST_SHARE * 100 });
  if (to !== null && to <= from) refuse('share-ends', { from, to });
  const other = (await tx.facts.list('unrecorded', { subject: bikeId })).find(
    ({ entityId: id, body }) =>
      id !== entityId && (body.to === null || from < body.to) && (to === null || body.from < to),
  );
  if (other) refuse('share-there', { span: { from: other.body.from, to: other.body.to }, fact: other.id });
}

/** Errors: `refused`, `not-found`. */
export async function checkDeclared(
  tx: Tx,
  { bikeId, hoursAWeek, months, from, to }: DeclaredFact,
): Promise<void> {
  await checkBike(tx, bikeId);
  if (!(hoursAWeek >= 0 && hoursAWeek <= MOST_HOURS_A_WEEK))
    refuse('declared-range', { most: MOST_HOURS_A_WEEK });
  const areMonths = months.every((month) => Number.isInteger(month) && month >= 1 && month <= 12);
  if (months.length === 0 || !areMonths) refuse('declared-months');
  if (to !== null && to <= from) refuse('share-ends', { from, to });
}
