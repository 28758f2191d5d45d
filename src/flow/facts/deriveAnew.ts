/** A store whose rides and standings an earlier program derived, brought to the way of this one. */
import type { Clock } from '../../ports/clock.js';
import type { Store } from '../../ports/store.js';
import { findWorkshop } from '../settings.js';
import { follow, nothingTouched } from './touched.js';

/** Each change of the way in which rows are derived, in order: what a store of before needs. It only grows. */
const CHANGES: readonly ('rides weighed' | 'readings settled' | 'units foreseen' | 'words found')[] = [
  // Hours are counted from the ground before its bounds.
  'rides weighed',
  // Forecasts know the season and pool a rider's own habits.
  'units foreseen',
  // Which recordings are one ride is told by rhythm and place.
  'readings settled',
  // Riders, units and bikes are found by parts of words.
  'words found',
  // Forecasts know by when files are expected, and the peak of the season is another.
  'units foreseen',
  // The name of a recorder's profile tells the bike.
  'readings settled',
  // A spare in its box keeps the interval of its fleet.
  'units foreseen',
  // A recorder's serial number tells whose a file is.
  'readings settled',
  // Speed and turning pull more beside elevation that is known well.
  'rides weighed',
];

/** Derives anew what an earlier program derived, in one transaction; true where there was anything to do. */
export const deriveAnew = ({
  store,
  clock,
}: {
  readonly store: Store;
  readonly clock: Clock;
}): Promise<boolean> =>
  store.write(async (tx) => {
    const owed = CHANGES.slice(await tx.derived.get());
    if (owed.length === 0) return false;
    await tx.derived.set(CHANGES.length);
    if (!(await findWorkshop(tx))) return false;
    const touched = nothingTouched();
    touched.allUnits = owed.some((one) => one !== 'words found');
    if (owed.includes('words found')) await tx.findWords.rebuild();
    touched.allRides = owed.includes('rides weighed');
    if (owed.includes('readings settled'))
      for (const id of await tx.readings.listIds()) touched.readingIds.add(id);
    await follow(tx, touched, clock.now());
    return true;
  });
