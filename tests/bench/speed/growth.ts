/** What one new ride, and one that comes late, take in ledgers of ten and a hundred times as many rides. */
import { mkdtempSync } from 'node:fs';
import { join } from 'node:path';
import { ingestFile } from '../../../src/flow/ingestFile.js';
import { DAY_MS } from '../../../src/units.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { fill } from '../pages/fill.js';
import { NOW, openAt } from './ledgers.js';
import { timed } from './timing.js';

const RIDES_A_BIKE = 100;
const RUNS = 15;
const RIDE_POINTS = 1800;

export interface Growth {
  readonly rides: number;
  readonly newMs: number;
  readonly lateMs: number;
}

/** Returns the figures of one ledger with so many units, a hundred rides each. */
export async function growthFigures(folder: string, units: number, runs = RUNS): Promise<Growth> {
  const data = mkdtempSync(join(folder, 'grown-'));
  await fill(join(data, 'stanchion.db'), NOW, { units, ridesABike: RIDES_A_BIKE });
  const stanchion = await openAt(data);
  const bikeId = await stanchion.store.read(async (tx) => (await tx.handles.find('bike', 'b-p1'))!);
  const take = async (startMs: number): Promise<void> => {
    const bytes = textBytes(gpxText([{ segments: [straightTrack(startMs, RIDE_POINTS)] }]));
    const taken = await ingestFile(stanchion, {
      name: 'a.gpx',
      bytes,
      riderId: null,
      bikeId,
      rule: 'chosen',
    });
    if (taken.outcome !== 'counted') throw new Error(`${taken.outcome}: ${taken.reason}`);
  };
  // In the gaps between the rides that are there.
  const newMs = await timed(runs, (run) => take(NOW - DAY_MS - (run + 2) * 3_600_000));
  const lateMs = await timed(runs, (run) => take(NOW - 400 * DAY_MS - (run + 2) * 2 * 3_600_000));
  await stanchion.store.close();
  return { rides: units * RIDES_A_BIKE, newMs, lateMs };
}
