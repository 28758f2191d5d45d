import { stat, statfs } from 'node:fs/promises';
import { listAtWork } from '../inbox/atWork.js';
import type { MachineState } from '../ports/loops.js';
import { secondsIn } from '../units.js';
import type { Stanchion } from './opening.js';
import { backupsOf, placeOf } from './places.js';

/** Returns what tells how this machine is: its room, its decoder, its backups. */
export function machineOf(stanchion: Stanchion): () => Promise<MachineState> {
  const { config, decoder } = stanchion;
  const began = performance.now();
  const backups = config.backups.kept === 0 ? null : backupsOf(stanchion.config);
  return async () => {
    const { bavail, blocks, bsize } = await statfs(config.dataFolder);
    return {
      atWork: listAtWork(config.dataFolder),
      freeBytes: bavail * bsize,
      diskBytes: blocks * bsize,
      storeBytes: config.databaseUrl === null ? (await stat(placeOf(config))).size : null,
      decoder: decoder(),
      backups: backups && { last: (await backups.list()).at(-1) ?? null },
      ranS: secondsIn(performance.now() - began),
    };
  };
}
