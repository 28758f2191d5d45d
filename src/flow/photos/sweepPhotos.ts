/** What becomes of photographs that nothing needs any more. */
import type { Fact } from '../../core/ledger/facts.js';
import type { Clock } from '../../ports/clock.js';
import type { PhotoFiles } from '../../ports/originals.js';
import type { Store, Tx } from '../../ports/store.js';
import { DAY_MS, type Instant } from '../../units.js';
import { voidFact } from '../facts/changeFact.js';
import { unnamed } from './photos.js';

/** A photograph whose service was taken back waits so long for another, and a file that nothing names for its store. */
export const KEPT_MS = 30 * DAY_MS;
const BY_ITSELF = 'stanchion';

export interface SweepDeps {
  readonly store: Store;
  readonly clock: Clock;
  readonly photoFiles: PhotoFiles;
}

/**
 * Takes back the photographs whose service was taken back long ago, and removes the files that no photograph has named
 * for as long: of an upload that was cut off, or of a store that was put aside. Returns how many files went.
 * Errors: ServiceError `disk-failed`.
 */
export async function sweepPhotos(
  { store, clock, photoFiles }: SweepDeps,
  keptMs = KEPT_MS,
): Promise<number> {
  const gone = await store.write((tx) => takeBackOld(tx, clock.now(), keptMs));
  for (const sha256 of gone) await photoFiles.remove(sha256);
  const old = new Set(await photoFiles.listUntouched(keptMs));
  const orphans = (await listOrphans(store, photoFiles)).filter((sha256) => old.has(sha256));
  for (const sha256 of orphans) await photoFiles.remove(sha256);
  return gone.length + orphans.length;
}

/** Returns the files that no photograph names. One that is being taken lies there before its fact does. */
export async function listOrphans(store: Store, files: Pick<PhotoFiles, 'list'>): Promise<string[]> {
  const there = await files.list();
  if (there.length === 0) return [];
  const photos = await store.read((tx) => tx.facts.list('photo'));
  const named = new Set(photos.flatMap(({ body }) => [body.sha256, body.small]));
  return there.filter((sha256) => !named.has(sha256));
}

/** Returns the hashes of the files that then have no name. */
async function takeBackOld(tx: Tx, now: Instant, keptMs: number): Promise<string[]> {
  const photos = (await tx.facts.list('photo')).filter(({ body }) => body.serviceId !== null);
  if (photos.length === 0) return [];
  const standing = new Set((await tx.facts.list('service')).map(({ entityId }) => entityId));
  const loose = photos.filter(({ body }) => !standing.has(body.serviceId!));
  const old: Fact<'photo'>[] = [];
  for (const photo of loose) {
    const since = await takenBackAt(tx, photo);
    if (since !== null && since <= now - keptMs) old.push(photo);
  }
  for (const { id } of old) await voidFact(tx, id, 'its service was taken back', { by: BY_ITSELF, at: now });
  return unnamed(
    tx,
    old.map(({ body }) => body),
  );
}

/** When the service of a photograph was taken back; null where nothing says so. */
async function takenBackAt(tx: Tx, { body }: Fact<'photo'>): Promise<Instant | null> {
  const history = await tx.facts.history(body.unitId);
  return (
    history.findLast(({ entityId, isVoid }) => entityId === body.serviceId && isVoid)?.recordedAt ?? null
  );
}
