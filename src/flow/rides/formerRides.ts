import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';

/** Returns of some rides the ids of those that an earlier reader read, whose file is no longer kept. */
export async function listFormer(
  tx: Tx,
  rides: readonly Pick<RideRow, 'id' | 'readingIds'>[],
): Promise<ReadonlySet<string>> {
  const kept = new Set(await tx.rereads.listKept(rides.flatMap(({ readingIds }) => readingIds)));
  const former = rides.filter(({ readingIds }) => readingIds.some((id) => kept.has(id)));
  return new Set(former.map(({ id }) => id));
}
