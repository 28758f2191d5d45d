import type { Clock } from '../../ports/clock.js';
import type { Forgetting } from '../../ports/forgetting.js';
import type { Store } from '../../ports/store.js';
import { type Forgotten, forgetRider, listRiderFiles } from './forgetRider.js';

export interface ForgetDeps {
  readonly store: Store;
  readonly clock: Clock;
  readonly forgetting: Forgetting;
}

/**
 * Forgets a rider in the store and in the folders. What the database file has freed stays readable in it until it is
 * swept, which is owed from before anything is deleted. Errors: `not-found`, `disk-failed`.
 */
export async function forgetAll(
  { store, clock, forgetting }: ForgetDeps,
  riderId: string,
): Promise<Forgotten> {
  await forgetting.note(riderId);
  // Files first: once the store has forgotten which they were, nobody could find them after a crash.
  await forgetting.remove(await store.read((tx) => listRiderFiles(tx, riderId)));
  const forgotten = await store.write((tx) => forgetRider(tx, riderId, clock.now()));
  await forgetting.remove(forgotten);
  // A sweep that was under way saw nothing of this.
  await forgetting.note(riderId);
  return forgotten;
}

/** Forgets again whoever came back with a backup or an export from before. Returns how many did. */
export async function forgetAgain(deps: ForgetDeps): Promise<number> {
  const riderIds = await deps.forgetting.list();
  const back = await deps.store.read(async (tx) => {
    const found: string[] = [];
    for (const id of riderIds) if (await tx.contacts.find(id)) found.push(id);
    return found;
  });
  for (const riderId of back) await forgetAll(deps, riderId);
  return back.length;
}
