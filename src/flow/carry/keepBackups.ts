import { atHour, dayOf } from '../../core/days/calendar.js';
import type { Backups } from '../../ports/backups.js';
import type { Clock } from '../../ports/clock.js';
import type { Store } from '../../ports/store.js';
import type { Day } from '../../units.js';
import { findClockDoubt } from '../clockDoubt.js';
import { findWorkshop } from '../settings.js';

/**
 * Makes today's backup once its hour has come, and then lets go of the oldest beyond those that are kept. What is due
 * is read from the days of which there is one. So a program that was off at the hour makes it later. While the clock is
 * doubted none is let go of.
 * Returns the day of the one that was made, null where none was due. Errors: as `Backups.make`; then nothing was let go of.
 */
export async function keepBackups(
  { store, clock, backups }: { readonly store: Store; readonly clock: Clock; readonly backups: Backups },
  { kept, hour }: { readonly kept: number; readonly hour: number },
): Promise<Day | null> {
  if (kept === 0) return null;
  const zone = (await store.read(findWorkshop))?.body.timeZone ?? 'UTC';
  const now = clock.now();
  const today = dayOf(now, zone);
  const days = await backups.list();
  if (days.includes(today) || now < atHour(today, hour, zone)) return null;
  await backups.make(today, now);
  if (await store.read((tx) => findClockDoubt(tx, clock))) return today;
  const all = [...days, today].sort();
  // A clock that once ran ahead left a day to come: today's is never the one to go.
  for (const day of all.slice(0, -kept)) if (day !== today) await backups.remove(day);
  return today;
}
