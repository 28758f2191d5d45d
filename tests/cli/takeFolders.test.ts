/** `take` reads folders and archives as the drop folder does: the folders name rider and bike. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { type Ran, scratchFolder } from '../fixtures/program.js';
import { runBuilt } from '../fixtures/runHere.js';
import { zipFile } from '../fixtures/zipFile.js';

const NOW = '2025-06-18T12:00:00Z';
/** One letter with its accent, as Unicode composes it and as some systems write it apart. */
const COMPOSED = 'jos\u00e9';
const APART = 'jose\u0301';

const setup = {
  workshop: { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['tue', 'wed', 'thu'] },
  riders: [
    { id: COMPOSED, name: 'Rider One' },
    { id: 'r2', name: 'Rider Two' },
  ],
  bikes: [
    { id: 'b1', rider: COMPOSED, name: 'Bike one', type: 'trail' },
    { id: 'b1b', rider: COMPOSED, name: 'Bike two', type: 'trail' },
    { id: 'b2', rider: 'r2', name: 'Bike three', type: 'trail' },
  ],
  units: ['F-1', 'F-2'].map((tag) => ({ tag, unitKind: 'fork', history: 'new' })),
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2025-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2025-01-01' },
  ],
};

let data = '';
const run = (...args: string[]): Promise<Ran> => runBuilt([...args, '--data', data, '--now', NOW, '--json']);
const put = (name: string, bytes: Uint8Array | string): string => {
  const file = join(data, name);
  mkdirSync(join(file, '..'), { recursive: true });
  writeFileSync(file, bytes);
  return file;
};
const gpx = (start: string): Uint8Array =>
  textBytes(gpxText([{ type: 'cycling', segments: [straightTrack(Date.parse(start), 601)] }]));
const shown = ({ rows }: Ran) =>
  rows.map(({ outcome, riderRule, bike, bikeRule }) => [outcome, riderRule, bike, bikeRule]);

beforeEach(async () => {
  data = scratchFolder();
  expect((await run('import', put('setup.json', JSON.stringify(setup)))).status).toBe(0);
});

test('a zip with folders named for riders and bikes asks nobody whose its rides are', async () => {
  const zip = put(
    'season.zip',
    zipFile([
      { name: `${COMPOSED}/b1/one.gpx`, bytes: gpx('2025-06-10T08:00:00Z') },
      { name: 'r2/two.gpx', bytes: gpx('2025-06-11T08:00:00Z') },
    ]),
  );
  expect(shown(await run('take', zip))).toEqual([
    ['counted', 'folder', 'b1', 'subfolder'],
    ['counted', 'folder', 'b2', 'only-suspended'],
  ]);
});

test('a folder whose name is written with its accent apart is the same rider’s', async () => {
  put(`rides/${APART}/b1/one.gpx`, gpx('2025-06-10T08:00:00Z'));
  expect(shown(await run('take', join(data, 'rides')))).toEqual([['counted', 'folder', 'b1', 'subfolder']]);
});

test('thousands of tracks of two points are one question at most, and no hours', async () => {
  const tracks = Array.from({ length: 6000 }, (_, i) => ({
    type: 'cycling',
    segments: [straightTrack(Date.parse('2025-01-01T00:00:00Z') + i * 2_400_000, 2)],
  }));
  const { rows } = await run('take', put('rides/r2/many.gpx', textBytes(gpxText(tracks))));
  expect(rows).toHaveLength(1);
  expect(rows[0]).toMatchObject({ outcome: expect.not.stringMatching(/^(counted|joined)/), changed: [] });
  expect(rows[0]!.reason).toMatch(/^[A-Z].*[.?]$/);
  expect((rows[0]!.rides as unknown[]).length).toBeLessThanOrEqual(1);
});
