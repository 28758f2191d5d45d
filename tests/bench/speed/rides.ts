import { ingestRead, keepAndRead, type ReadFile } from '../../../src/flow/take/ingestFile.js';
import type { Store } from '../../../src/ports/store.js';
import type { Instant } from '../../../src/units.js';
import { filePorts } from '../../fixtures/filePorts.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';

const RIDE_POINTS = 1800;

/** What takes files into a store, decoding in this thread. */
export const takeDeps = (store: Store, now: Instant) => ({
  ...filePorts(),
  store,
  clock: { now: () => now },
  log: { info: () => undefined, error: () => undefined },
});
type TakeDeps = ReturnType<typeof takeDeps>;

/** Returns a ride of half an hour, kept and read, for a bike. */
export const readRide = (deps: TakeDeps, bikeId: string, startMs: number): Promise<ReadFile> =>
  keepAndRead(deps, {
    name: 'a.gpx',
    bytes: textBytes(gpxText([{ segments: [straightTrack(startMs, RIDE_POINTS)] }])),
    riderId: null,
    bikeId,
    rule: 'chosen',
  });

/** Takes files that were read into the ledger, in one transaction that is on disk afterwards. */
export async function store(deps: TakeDeps, files: readonly ReadFile[]): Promise<void> {
  for (const taken of await ingestRead(deps, files))
    if (taken.outcome !== 'counted') throw new Error(`${taken.outcome}: ${taken.reason}`);
}
