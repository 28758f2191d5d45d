/** Photographs of a store that was put in the place of another. */
import { dirname, join, resolve } from 'node:path';
import type { Config } from '../config.js';
import { listFaulty } from '../flow/photos/photos.js';
import { originalsIn, touchOriginals } from '../inbox/originals.js';
import type { Stanchion } from './opening.js';

export interface PhotosBrought {
  readonly brought: number;
  readonly missing: number;
}

/**
 * Brings the photographs that a restored store names and this folder lacks, where they lie with the backup. Those that
 * it does not name stay for another month, for the store that was put aside may be wanted back.
 * Errors: ServiceError `disk-failed`.
 */
export async function bringPhotos(
  { store, photoFiles }: Pick<Stanchion, 'store' | 'photoFiles'>,
  config: Config,
  backup: string,
): Promise<PhotosBrought> {
  await touchOriginals(config.photosFolder);
  // As the secret does: beside the backup, or in the data folder, or its copy, in which the folder of backups lies.
  const beside = dirname(resolve(backup));
  const others = [join(beside, 'photos'), join(dirname(beside), 'photos')].map(originalsIn);
  const brought = new Set<string>();
  for (const { sha256 } of await listFaulty(store, photoFiles))
    for (const other of others) {
      if (brought.has(sha256) || (await other.look(sha256)) !== 'whole') continue;
      await photoFiles.remove(sha256);
      await photoFiles.keep((await other.read(sha256))!);
      brought.add(sha256);
    }
  const missing = new Set((await listFaulty(store, photoFiles)).map(({ sha256 }) => sha256));
  return { brought: brought.size, missing: missing.size };
}
