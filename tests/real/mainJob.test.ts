/** The main job from end to end: the built program, a real FIT and a real GPX file, a folder, two mails. */
import { copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { simpleParser } from 'mailparser';
import { expect } from 'vitest';
import { eventually, runProgram, scratchFolder, startProgram } from '../fixtures/program.js';
import { itWithRecordings } from '../fixtures/recordings.js';

/** A Thursday at 09:00 in Lisbon, two hours after the digest's hour. */
const NOW = '2026-01-15T09:00:00Z';
const FILES = ['rides/mountain-01.fit', 'rides/bike-10.gpx'];
const recordings = (file: string): string => join(process.env.STANCHION_RECORDINGS ?? '', file);

/** Shorter than any real interval, so that two rides reach the first and nearly the second. */
const LOWER_LEG_HOURS = 3.5;
const FULL_HOURS = 4;

const setup = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['tue', 'wed', 'thu'],
    remindersFrom: '2020-01-01',
    email: 'bench@example.org',
  },
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', language: 'en', addressConfirmed: true }],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Trail bike', type: 'trail' }],
  units: [{ tag: 'F-0001', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-0001', bike: 'b1', from: '2020-01-01' }],
  intervals: [
    { unitKind: 'fork', serviceKind: 'lower-leg', terrainHours: LOWER_LEG_HOURS, movingHoursCeiling: null },
    { unitKind: 'fork', serviceKind: 'full', terrainHours: FULL_HOURS, movingHoursCeiling: null },
  ],
};

interface Ride {
  readonly movingS: number;
  readonly terrainS: number;
}

itWithRecordings(
  'files dropped in the folder of the running program become hours, a state and two mails',
  async () => {
    const data = scratchFolder();
    const file = join(data, 'setup.json');
    writeFileSync(file, JSON.stringify(setup));
    const at = ['--data', data, '--now', NOW];
    expect(runProgram(['import', file, ...at]).status).toBe(0);

    const looked = runProgram(['look', '--json', ...FILES.map(recordings), '--now', NOW]).rows;
    const rides = looked.flatMap((row) => row.rides as Ride[]);
    expect(rides).toHaveLength(2);
    const movingS = rides.reduce((sum, ride) => sum + ride.movingS, 0);

    const { stop } = await startProgram(['serve', '--json', '--port', '0', ...at]);
    const inbox = join(data, 'inbox', 'r1', 'b1');
    mkdirSync(inbox, { recursive: true });
    for (const [i, name] of FILES.entries())
      copyFileSync(recordings(name), join(inbox, `${i}${name.slice(-4)}`));
    const outbox = join(data, 'outbox');
    const listMails = () =>
      readdirSync(outbox, { withFileTypes: true }).filter((entry) => entry.name.endsWith('.eml'));
    const mails = await eventually(() => {
      try {
        return listMails().length >= 2 ? listMails() : null;
      } catch {
        return null;
      }
    });
    expect(await stop()).toBe(0);

    const due = runProgram(['due', '--json', ...at]).rows;
    const of = (kind: string) => due.find((row) => row.serviceKind === kind)!;
    for (const [kind, hours] of [
      ['lower-leg', LOWER_LEG_HOURS],
      ['full', FULL_HOURS],
    ] as const) {
      const row = of(kind);
      expect(Math.round((row.movingHoursSince as number) * 3600)).toBe(movingS);
      expect(row.hoursLeft).toBeCloseTo(hours - (row.terrainHoursSince as number), 3);
      expect(['coming-up', 'due']).toContain(row.state);
    }
    expect(of('lower-leg').state).toBe('due');

    const parsed = await Promise.all(mails.map(({ name }) => simpleParser(readFileSync(join(outbox, name)))));
    const to = parsed.map((mail) => (Array.isArray(mail.to) ? mail.to[0] : mail.to)?.value[0]?.address);
    expect(to.sort()).toEqual(['bench@example.org', 'r1@example.org']);
    const toRider = parsed.find((mail) => mail.subject?.includes('Trail bike'))!;
    expect(toRider.text).toContain('F-0001');
    expect(toRider.headers.get('auto-submitted')).toBe('auto-generated');

    for (const name of readdirSync(inbox)) copyFileSync(join(inbox, name), join(inbox, `again-${name}`));
    const again = await startProgram(['serve', '--json', '--port', '0', ...at]);
    const told = join(data, 'inbox', 'r1', 'what happened.txt');
    await eventually(() => (/again-1/.test(readFileSync(told, 'utf8')) ? true : null));
    expect(await again.stop()).toBe(0);
    const later = runProgram(['due', '--json', ...at]).rows;
    expect(later.map(({ asOf: _, ...row }) => row)).toEqual(due.map(({ asOf: _, ...row }) => row));
    expect(listMails()).toHaveLength(2);
    expect(runProgram(['check', '--json', ...at]).rows).toMatchObject([{ ok: true, derivedDifferences: 0 }]);
  },
);

itWithRecordings('two bikes with equal hours on different ground have different hours left', () => {
  const rows = runProgram([
    'look',
    '--json',
    ...['rides/mountain-01.fit', ...Array.from({ length: 8 }, (_, i) => `rides/road-0${i + 1}.fit`)].map(
      recordings,
    ),
  ]).rows;
  const weights = rows.map((row) => (row.rides as { terrainWeight: number }[])[0]!.terrainWeight);
  const [mountain = 0, ...roads] = weights;
  expect(roads).toHaveLength(8);
  expect(mountain).toBeGreaterThan(Math.max(...roads));
});

itWithRecordings(
  'every recording is answered with an outcome, and with a code and a reason where it is no plain ride',
  () => {
    const folders = ['rides', 'tracks', 'not-rides', 'damaged'].map(recordings);
    const { rows } = runProgram(['look', '--json', ...folders]);
    expect(rows).toHaveLength(115);
    for (const row of rows) {
      expect(['ride', 'ask', 'no-ride', 'set-aside']).toContain(row.outcome);
      if (row.outcome === 'ride' && row.code === null) continue;
      expect(row.code, String(row.file)).toMatch(/^[a-z-]+$/);
      expect(String(row.reason).length, String(row.file)).toBeGreaterThan(10);
    }
    const plain = rows.filter((row) => row.outcome === 'ride' && String(row.file).includes('/rides/'));
    expect(plain.length).toBeGreaterThan(30);
  },
);
