/** Many files, and files that must be refused, through the built program. */
import { existsSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, it } from 'vitest';
import { rideFit, straightRide } from '../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { type Ran, runProgram, scratchFolder } from '../fixtures/program.js';
import { zipFile } from '../fixtures/zipFile.js';

const NOW = '2025-06-18T12:00:00Z';
const SETUP = {
  workshop: { id: 'w1', name: 'Test bench', timeZone: 'UTC', openDays: ['tue'] },
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
  units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2020-01-01' }],
};
const START = Date.parse('2025-06-10T08:00:00Z');
const DAY_MS = 86_400_000;

let data = '';
const run = (...args: string[]): Ran => runProgram([...args, '--data', data, '--now', NOW]);
const put = (name: string, bytes: Uint8Array | string): string => {
  writeFileSync(join(data, name), bytes);
  return join(data, name);
};

beforeEach(() => {
  data = scratchFolder();
  expect(run('import', put('setup.json', JSON.stringify(SETUP))).status).toBe(0);
});

it('a zip of 510 files: each is accounted for once, in its order, and told of on the way', () => {
  const rides = Array.from({ length: 505 }, (_, i) => {
    const startMs = START - i * DAY_MS;
    const samples = straightRide(startMs, 61);
    return { name: `rides/${i}.fit`, bytes: rideFit({ samples, sessions: [{ startMs, sport: 2 }] }).bytes() };
  });
  const notes = Array.from({ length: 5 }, (_, i) => ({
    name: `notes/${i}.txt`,
    bytes: textBytes(`Note ${i}`),
  }));
  const zip = put('export.zip', zipFile([...rides, ...notes]));
  const ran = run('take', zip, '--rider', 'r1', '--json');
  expect(ran.stderr).toBe('500 of 510 files\n');
  expect(ran.rows.map((row) => row.file)).toEqual([...rides, ...notes].map(({ name }) => `${zip}/${name}`));
  expect(ran.rows.filter((row) => row.outcome === 'counted')).toHaveLength(505);
  expect(ran.rows.filter((row) => row.code === 'not-fit-or-gpx')).toHaveLength(5);
  const due = run('due', '--json').rows.find((row) => row.serviceKind === 'lower-leg')!;
  // A minute each.
  expect(due.movingHoursSince).toBeCloseTo(505 / 60, 2);
});

it('a zip bomb, a path outside and an XML of 1 GB are refused in words, and nothing is written outside', () => {
  const text = gpxText([{ type: 'cycling', segments: [straightTrack(START, 601)] }]);
  const bomb = put('bomb.zip', zipFile([{ name: 'ride.fit', bytes: Buffer.alloc(50_000_000) }]));
  const outside = put('outside.zip', zipFile([{ name: '../outside.gpx', bytes: textBytes(text) }]));
  const huge = put('huge.gpx', text);
  truncateSync(huge, 1024 ** 3);
  const ran = run('take', bomb, outside, huge, '--rider', 'r1', '--json');
  expect(ran.status).toBe(1);
  expect(ran.rows.map(({ outcome, code }) => [outcome, code])).toEqual([
    ['set-aside', 'archive-limits'],
    ['set-aside', 'unsafe-path'],
    ['set-aside', 'too-large'],
  ]);
  for (const row of ran.rows) expect(String(row.reason).length).toBeGreaterThan(20);
  expect(existsSync(join(data, '..', 'outside.gpx'))).toBe(false);
});
