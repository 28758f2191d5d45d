/** `ways` as scripts see it, and as people do. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { putLedger } from '../faults/serving.js';
import { gpxText, straightTrack } from '../fixtures/gpxFile.js';
import { scratchFolder } from '../fixtures/program.js';
import { runBuilt, runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
const DOCUMENT = {
  workshop: { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['tue'] },
  riders: [
    { id: 'r1', name: 'Rider One' },
    { id: 'r2', name: 'Rider Two' },
  ],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Bike', type: 'trail' }],
  units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-01-01' }],
};

/** Two rides, of which one says nothing of what was done; each came on the day after it. */
async function taken(): Promise<string> {
  const data = scratchFolder();
  await putLedger(data, DOCUMENT);
  const files = join(data, 'files');
  mkdirSync(files);
  for (const [name, start, speed] of [
    ['a.gpx', '2025-06-10T08:00:00Z', 1],
    ['walk.gpx', '2025-06-11T08:00:00Z', 0.25],
  ] as const) {
    const points = straightTrack(Date.parse(start), 1201).map((one) => ({
      ...one,
      lat: (10 + (Number(one.lat) - 10) * speed).toFixed(6),
    }));
    writeFileSync(join(files, name), gpxText([{ segments: [points] }]));
    const now = new Date(Date.parse(start) + 86_400_000).toISOString();
    const said = await runBuilt(['take', join(files, name), '--rider', 'r1', '--data', data, '--now', now]);
    expect(said.status).toBe(0);
  }
  return data;
}

it('says for scripts by which way, when last, how late and what waits, and for whom nothing came', async () => {
  const data = await taken();
  const { status, rows } = await runHere(['ways', '--json', '--data', data, '--now', NOW]);
  expect(status).toBe(0);
  expect(rows).toEqual([
    {
      rider: 'r1',
      ways: [{ way: 'command', rides: 2, last: '2025-06-12' }],
      daysLate: null,
      asking: 1,
      setAside: 0,
      mailsLeft: 0,
    },
    { rider: 'r2', ways: [], daysLate: null, asking: 0, setAside: 0, mailsLeft: 0 },
  ]);
});

it('says it to people in words, in a table', async () => {
  const data = await taken();
  const { stdout } = await runHere(['ways', '--data', data, '--now', NOW]);
  expect(stdout).toMatch(/^rider\s+name\s+by\s+last\s+days late\s+need an answer/);
  expect(stdout).toMatch(/\nr1\s+Rider One\s+a command \(2\)\s+2025-06-12\s+1\s*\n/);
  expect(stdout).toMatch(/\nr2\s+Rider Two\s+nothing yet\s*\n/);
});

it('without a store it says what to do', async () => {
  const { status, rows } = await runHere(['ways', '--json', '--data', join(scratchFolder(), 'none')]);
  expect(status).not.toBe(0);
  expect(rows).toMatchObject([{ error: { message: expect.any(String), hint: expect.any(String) } }]);
});
