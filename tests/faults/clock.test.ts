/** A clock of the machine that jumps while the program runs: nothing stands still, and nothing is told twice. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, it } from 'vitest';
import { eventually, scratchFolder } from '../fixtures/program.js';
import { expectSound, layDown, putLedger, rideText, serveIn, untilCounted } from './serving.js';

const HOUR_MS = 3_600_000;
const SHIM = pathToFileURL(resolve(import.meta.dirname, 'jumpingClock.mjs')).href;

const mailsIn = (data: string): string[] =>
  readdirSync(join(data, 'outbox'))
    .filter((name) => name.endsWith('.eml'))
    .map((name) => readFileSync(join(data, 'outbox', name), 'utf8'));

/** Invented: a fork that is due, so that there is something to tell. */
const DUE = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'UTC',
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
    remindersFrom: '2020-01-01',
    email: 'bench@example.org',
    digestHour: 0,
  },
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
  units: [
    { tag: 'F-1', unitKind: 'fork', history: 'new' },
    { tag: 'F-2', unitKind: 'fork', history: { terrainHours: 55, movingHours: 55, asOf: '2026-01-01' } },
  ],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2020-01-01' }],
};

it('jumps back three hours and forward by two days: rides are counted, and each mail went out once', async () => {
  const data = scratchFolder();
  await putLedger(data, DUE);
  const jump = join(scratchFolder(), 'jump');
  writeFileSync(jump, '0');
  const serving = await serveIn(data, { NODE_OPTIONS: `--import ${SHIM}`, JUMP_FILE: jump });
  layDown(data, 'first.gpx', rideText(1));
  await untilCounted(data, 1);
  await eventually(() => (mailsIn(data).length > 0 ? true : null));
  const before = mailsIn(data);

  writeFileSync(jump, String(-3 * HOUR_MS));
  layDown(data, 'second.gpx', rideText(2));
  await untilCounted(data, 2);
  expect(mailsIn(data)).toEqual(before);

  writeFileSync(jump, String(48 * HOUR_MS));
  layDown(data, 'third.gpx', rideText(3));
  await untilCounted(data, 3);
  writeFileSync(jump, '0');
  layDown(data, 'fourth.gpx', rideText(4));
  await untilCounted(data, 4);

  const { reasons } = (await (await serving.get('/readyz')).json()) as { reasons: { reason: string }[] };
  expect(reasons.filter(({ reason }) => reason !== 'clock')).toEqual([]);
  // That the clock jumped is said; nothing else went wrong.
  const faults = serving
    .log()
    .split('\n')
    .filter((line) => line.includes('"level":50'));
  expect(faults.filter((line) => !line.includes('The clock of this machine jumped'))).toEqual([]);
  const ids = mailsIn(data).map((mail) => /^Message-ID: (.*)$/im.exec(mail)?.[1]);
  expect(new Set(ids).size).toBe(ids.length);
  const digestsOfDue = mailsIn(data).filter(
    (mail) => /^To: .*bench@example\.org/im.test(mail) && mail.includes('F-2'),
  );
  expect(digestsOfDue).toHaveLength(1);
  expect(await serving.stop()).toBe(0);
  expectSound(data);
}, 240_000);
