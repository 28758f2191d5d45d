/** Photographs of what was seen on a unit: facts about files that lie beside the store. */
import { dayOf } from '../../core/days/calendar.js';
import type { Fact, PhotoFact } from '../../core/ledger/facts.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import type { PhotoSubject } from '../../core/tokens.js';
import type { FileLook, MadePhoto, PhotoFiles } from '../../ports/originals.js';
import type { Store, Tx } from '../../ports/store.js';
import type { Day } from '../../units.js';
import type { Entry } from '../entry.js';
import { addFact, replaceFact, voidFact } from '../facts/changeFact.js';
import { getIdOf } from '../names.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { getUnitLedger } from '../unitLedger.js';

/** Of one unit that wait for a service, and of one service. */
export const MOST_PHOTOS = 12;

/** A photograph as pages show it. */
export interface ShownPhoto {
  /** The same through all corrections; in its address. */
  readonly id: string;
  readonly factId: string;
  /** Null while it waits for a service to be logged. */
  readonly serviceId: string | null;
  readonly on: Day;
  readonly shows: PhotoSubject;
  readonly width: number;
  readonly height: number;
  readonly showsPerson: boolean;
  readonly riderId: string | null;
}

/** A photograph whose files are kept. */
export interface KeptPhoto extends Pick<PhotoFact, 'sha256' | 'small' | 'width' | 'height'> {}

/** Each file is on disk when it returns. */
async function keepPhoto(
  files: Pick<PhotoFiles, 'keep'>,
  { picture, small, width, height }: MadePhoto,
): Promise<KeptPhoto> {
  return { sha256: await files.keep(picture), small: await files.keep(small), width, height };
}

/**
 * Keeps the files of photographs, then has the facts added that name them. Errors: ServiceError `disk-failed`, and those of
 * `add`.
 */
export async function keepPhotos<T>(
  files: Pick<PhotoFiles, 'keep'>,
  made: readonly MadePhoto[],
  add: (kept: readonly KeptPhoto[]) => Promise<T>,
): Promise<T> {
  const kept: KeptPhoto[] = [];
  for (const one of made) kept.push(await keepPhoto(files, one));
  const added = await add(kept);
  // Meanwhile somebody may have taken the same picture back, or a sweep have passed: named now, it stays.
  for (const one of made) await keepPhoto(files, one);
  return added;
}

export interface PhotoSaid extends Pick<PhotoFact, 'shows' | 'showsPerson' | 'takenBy'> {
  readonly unitId: string;
  /** Left out or null: it waits for the next service that is logged. */
  readonly serviceId?: string | null;
}

/**
 * Adds a photograph whose files are kept. Returns the fact.
 * Errors: `refused` where there are many of it already.
 */
export async function addPhoto(
  tx: Tx,
  kept: KeptPhoto,
  { unitId, serviceId = null, ...said }: PhotoSaid,
  entry: Entry,
): Promise<Fact<'photo'>> {
  const beside = (await listPhotos(tx, unitId)).filter((one) => one.serviceId === serviceId);
  if (beside.length >= MOST_PHOTOS) refuse('photos-enough', { most: MOST_PHOTOS });
  const { timeZone } = await getWorkshop(tx);
  const { fittings, bikes } = await getUnitLedger(tx, unitId, timeZone);
  const riderId = bikes.get(fittingNow(fittings, entry.at)?.bikeId ?? '')?.riderId ?? null;
  const body = { unitId, serviceId, on: dayOf(entry.at, timeZone), ...said, ...kept, riderId };
  return addFact(tx, { kind: 'photo', body }, entry);
}

/** Returns a unit’s photographs, the oldest first; those of a service that was taken back wait for another. */
export async function listPhotos(tx: Tx, unitId: string): Promise<readonly ShownPhoto[]> {
  const of = { subject: unitId };
  const photos = await tx.facts.list('photo', of);
  if (photos.length === 0) return [];
  return shownPhotos(photos, await tx.facts.list('service', of));
}

/** Returns photographs with the service that each belongs to, of those that stand. */
export function shownPhotos(
  photos: readonly Fact<'photo'>[],
  services: readonly Fact<'service'>[],
): ShownPhoto[] {
  const standing = new Set(services.map(({ entityId }) => entityId));
  return photos.map(({ id: factId, entityId: id, body }) => ({
    ...{ id, factId, on: body.on, shows: body.shows, width: body.width, height: body.height },
    showsPerson: body.showsPerson,
    riderId: body.riderId,
    serviceId: body.serviceId !== null && standing.has(body.serviceId) ? body.serviceId : null,
  }));
}

/** Returns a photograph of a unit; undefined where it is no longer, or another’s. */
export async function findPhoto(tx: Tx, tag: string, id: string): Promise<PhotoFact | undefined> {
  const unitId = await getIdOf(tx, 'unit', tag);
  const body = (await tx.facts.current('photo', id))?.body;
  return body?.unitId === unitId ? body : undefined;
}

/** Gives the photographs that wait to the service that was just logged. */
export async function claimPhotos(tx: Tx, unitId: string, serviceId: string, entry: Entry): Promise<void> {
  for (const { factId, serviceId: of } of await listPhotos(tx, unitId)) {
    if (of !== null) continue;
    const { body } = (await tx.facts.find(factId)) as Fact<'photo'>;
    await replaceFact(tx, factId, { kind: 'photo', body: { ...body, serviceId } }, entry);
  }
}

/** Takes a photograph back. Returns the hashes of files that no other names, which are the caller’s to remove. */
export async function removePhoto(
  tx: Tx,
  unitId: string,
  id: string,
  why: string,
  entry: Entry,
): Promise<readonly string[]> {
  const fact = await tx.facts.current('photo', id);
  if (fact?.body.unitId !== unitId) return [];
  await voidFact(tx, fact.id, why, entry);
  return unnamed(tx, [fact.body]);
}

/** Returns which files of some photographs no photograph in force names, beside those that are about to go. */
export async function unnamed(
  tx: Tx,
  photos: readonly PhotoFact[],
  going: ReadonlySet<string> = new Set(),
): Promise<string[]> {
  if (photos.length === 0) return [];
  const others = (await tx.facts.list('photo')).filter(({ id }) => !going.has(id));
  const named = new Set(others.flatMap(({ body }) => [body.sha256, body.small]));
  return [...new Set(photos.flatMap(({ sha256, small }) => [sha256, small]))].filter(
    (hash) => !named.has(hash),
  );
}

/** A file that a photograph names, which is not there or not what it was. */
export interface FaultyFile {
  readonly factId: string;
  readonly sha256: string;
  readonly look: Exclude<FileLook, 'whole'>;
}

/** Returns the files of photographs that are not whole. */
export async function listFaulty(store: Store, files: Pick<PhotoFiles, 'look'>): Promise<FaultyFile[]> {
  const photos = await store.read((tx) => tx.facts.list('photo'));
  const faulty: FaultyFile[] = [];
  for (const { id: factId, body } of photos)
    for (const sha256 of new Set([body.sha256, body.small])) {
      const look = await files.look(sha256);
      if (look !== 'whole') faulty.push({ factId, sha256, look });
    }
  return faulty;
}

/** Returns where a file lies in the data folder. */
export const pathOfFile = (sha256: string): string => `photos/${sha256.slice(0, 2)}/${sha256}`;
