import type { Log } from '../../ports/log.js';
import type { Store } from '../../ports/store.js';
import { type Taken, toldOutcome } from './ingestFile.js';

/** So much of a content's hash finds it among the kept files. */
const HASH_CHARS = 12;

/** Writes down what became of a file, or of an archive's, by handles and hashes: names of files name people and places. */
export async function logTaken(
  { store, log }: { readonly store: Store; readonly log: Log },
  taken: readonly Taken[],
  { riderId, ms }: { readonly riderId: string | null; readonly ms: number },
): Promise<void> {
  const rider =
    riderId === null
      ? null
      : ((await store.read((tx) => tx.handles.listOf('rider', [riderId]))).get(riderId) ?? null);
  const outcomes: Record<string, number> = {};
  const units = new Map<string, { movingS: number; terrainS: number }>();
  for (const one of taken) {
    const told = toldOutcome(one);
    outcomes[told] = (outcomes[told] ?? 0) + 1;
    for (const { tag, movingS, terrainS } of one.changed) {
      const so = units.get(tag) ?? { movingS: 0, terrainS: 0 };
      units.set(tag, { movingS: so.movingS + movingS, terrainS: so.terrainS + terrainS });
    }
  }
  const rides = taken.reduce((sum, one) => sum + one.rides.length, 0);
  const [only] = taken.length === 1 ? taken : [];
  log.info(
    {
      ...(only
        ? { file: only.sha256?.slice(0, HASH_CHARS) ?? null, code: only.code }
        : { files: taken.length }),
      ...{ rider, outcomes, rides, units: Object.fromEntries(units), ms: Math.round(ms) },
    },
    only ? 'a file was taken' : 'an archive was taken',
  );
}
