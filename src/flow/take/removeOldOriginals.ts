import { addMonths, dayOf, startOfDay } from '../../core/days/calendar.js';
import type { Clock } from '../../ports/clock.js';
import type { KeptOriginals } from '../../ports/originals.js';
import type { Store } from '../../ports/store.js';
import { findClockDoubt } from '../clockDoubt.js';
import { dropPlaces } from '../rides/dropMarks.js';

/**
 * Removes the ride files that nobody has handed over for so many months; what was read from them stays, but for where it was. One that lies
 * in the drop folder still was handed over once, and is not read again.
 * While the clock is doubted none is removed. Returns how many were.
 * Errors: `disk-failed`.
 */
export async function removeOldOriginals(
  {
    store,
    clock,
    originals,
  }: { readonly store: Store; readonly clock: Clock; readonly originals: KeptOriginals },
  months: number,
): Promise<number> {
  if (await store.read((tx) => findClockDoubt(tx, clock))) return 0;
  let removed = 0;
  const before = startOfDay(addMonths(dayOf(clock.now(), 'UTC'), -months), 'UTC');
  const old = new Set(await store.read((tx) => tx.files.listHashesBefore(before)));
  for (const sha256 of await originals.list()) {
    if (!old.has(sha256)) continue;
    await originals.remove(sha256);
    removed += 1;
    await store.write(async (tx) => {
      for (const file of await tx.files.list(sha256)) {
        const readings = await tx.readings.listOfFile(file.id);
        await dropPlaces(
          tx,
          readings.map((row) => row.id),
          clock.now(),
        );
      }
    });
  }
  return removed;
}
