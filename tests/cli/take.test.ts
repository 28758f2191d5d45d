/** `take`, `look` and `tray` as scripts see them, and as people do. */
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { rideFit, straightRide } from '../fixtures/fitFile.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { type Ran, scratchFolder } from '../fixtures/program.js';
import { runBuilt, runHere } from '../fixtures/runHere.js';
import { zipFile } from '../fixtures/zipFile.js';

const NOW = '2025-06-18T12:00:00Z';
const setup = {
  workshop: { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['tue', 'wed', 'thu'] },
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: ['b1', 'b2'].map((id) => ({ id, rider: 'r1', name: `Bike ${id}`, type: 'trail' })),
  units: ['F-1', 'F-2'].map((tag) => ({ tag, unitKind: 'fork', history: 'new' })),
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2025-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2025-01-01' },
  ],
};

let data = '';
/** Files are decoded in a thread, which only the built program has. */
const run = async (...args: string[]): Promise<Ran> => {
  const all = [...args, '--data', data, '--now', NOW];
  return args[0] === 'take' ? runBuilt(all) : runHere(all);
};
const put = (name: string, bytes: Uint8Array | string): string => {
  const file = join(data, name);
  mkdirSync(join(file, '..'), { recursive: true });
  writeFileSync(file, bytes);
  return file;
};
const gpx = (start: string, minutes = 10, type: string | null = 'cycling'): Uint8Array =>
  textBytes(
    gpxText([
      {
        ...(type === null ? {} : { type }),
        segments: [straightTrack(Date.parse(start), minutes * 60 + 1)],
      },
    ]),
  );
const TAKEN = ['file', 'outcome', 'code', 'reason', 'rides', 'bike', 'bikeRule', 'indoor'];
const movingHours = async (unit: string): Promise<unknown> =>
  (await run('due', '--json')).rows.find((row) => row.unit === unit && row.serviceKind === 'lower-leg')!
    .movingHoursSince;

beforeEach(async () => {
  data = scratchFolder();
  expect((await run('import', put('setup.json', JSON.stringify(setup)))).status).toBe(0);
});

describe('take --json', () => {
  it('answers each file of a folder with the keys of the contract, named as it was given', async () => {
    put('rides/a.gpx', gpx('2025-06-10T08:00:00Z'));
    put('rides/b.gpx', gpx('2025-06-11T08:00:00Z'));
    put('rides/deep/note.txt', 'hello');
    put(
      'rides/pack.zip',
      zipFile([
        { name: 'c.gpx', bytes: gpx('2025-06-12T08:00:00Z') },
        { name: 'run.gpx', bytes: gpx('2025-06-12T18:00:00Z', 10, 'running') },
      ]),
    );
    const { status, rows } = await run(
      'take',
      join(data, 'rides'),
      '--rider',
      'r1',
      '--bike',
      'b1',
      '--json',
    );
    expect(status).toBe(1);
    for (const row of rows) for (const key of TAKEN) expect(row).toHaveProperty(key);
    const told = rows.map(({ file, outcome, code, bike, bikeRule }) => [
      String(file).slice(data.length + 1),
      outcome,
      code,
      bike,
      bikeRule,
    ]);
    expect(told).toEqual([
      ['rides/a.gpx', 'counted', null, 'b1', 'chosen'],
      ['rides/b.gpx', 'counted', null, 'b1', 'chosen'],
      ['rides/deep/note.txt', 'set-aside', 'not-fit-or-gpx', null, null],
      ['rides/pack.zip/c.gpx', 'counted', null, 'b1', 'chosen'],
      ['rides/pack.zip/run.gpx', 'no-ride', 'other-sport', null, null],
    ]);
    expect(rows.map((row) => (row.rides as string[]).length)).toEqual([1, 1, 0, 1, 0]);
    expect(rows.every((row) => row.outcome === 'counted' || String(row.reason).length > 10)).toBe(true);
  });

  it('the same again adds nothing, and files that wait are no fault', async () => {
    const file = put('a.gpx', gpx('2025-06-10T08:00:00Z'));
    expect((await run('take', file, '--bike', 'b1', '--json')).rows[0]).toMatchObject({ outcome: 'counted' });
    const again = await run(
      'take',
      put('renamed.dat', gpx('2025-06-10T08:00:00Z')),
      '--bike',
      'b1',
      '--json',
    );
    expect([again.status, again.rows[0]!.outcome]).toEqual([0, 'counted-already']);
    const open = await run('take', put('b.gpx', gpx('2025-06-11T08:00:00Z')), '--rider', 'r1', '--json');
    expect([open.status, open.rows[0]!.outcome, open.rows[0]!.code]).toEqual([0, 'ask', 'which-bike']);
    const nobody = await run('take', put('c.gpx', gpx('2025-06-12T08:00:00Z')), '--json');
    expect([nobody.status, nobody.rows[0]!.outcome, nobody.rows[0]!.code]).toEqual([0, 'ask', 'who']);
    expect(await movingHours('F-1')).toBeCloseTo(1 / 6, 3);
  });

  it('a path that is not there is told, and the others are taken', async () => {
    const file = put('a.gpx', gpx('2025-06-10T08:00:00Z'));
    const { status, rows, stderr } = await run('take', join(data, 'no.gpx'), file, '--bike', 'b1', '--json');
    const [missing, taken] = rows;
    expect([status, taken!.outcome]).toEqual([1, 'counted']);
    expect(missing).toMatchObject({ file: join(data, 'no.gpx'), error: { code: 'not-found' } });
    expect(stderr).toContain('There is no file');
  });

  it('a rider or bike that is not there is refused before anything is taken', async () => {
    const file = put('a.gpx', gpx('2025-06-10T08:00:00Z'));
    for (const args of [
      ['--rider', 'nobody'],
      ['--bike', 'none'],
    ]) {
      const { status, rows, stderr } = await run('take', file, ...args, '--json');
      expect([status, rows]).toMatchObject([1, [{ error: { code: 'not-found' } }]]);
      expect(stderr).toContain(`"${args[1]}"`);
    }
  });

  it('a damaged file counts with its code; a sound one joins it', async () => {
    const whole = rideFit({
      samples: straightRide(Date.parse('2025-06-10T08:00:00Z'), 601),
      sessions: [{ startMs: Date.parse('2025-06-10T08:00:00Z'), sport: 2 }],
    }).bytes();
    const cut = put('cut.fit', whole.subarray(0, whole.length / 2));
    expect((await run('take', cut, '--bike', 'b1', '--json')).rows[0]).toMatchObject({
      outcome: 'counted',
      code: 'cut-off',
    });
    expect((await run('take', put('whole.fit', whole), '--bike', 'b1', '--json')).rows[0]).toMatchObject({
      outcome: 'joined',
      code: null,
    });
    const again = (await run('take', cut, '--bike', 'b1', '--json')).rows[0]!;
    expect(again).toMatchObject({ outcome: 'counted-already', code: 'cut-off' });
    expect(again.reason).toMatch(/another recording of the ride is sound/);
  });
});

it('take for people says each file that did not simply count, and the sums', async () => {
  put('rides/a.gpx', gpx('2025-06-10T08:00:00Z'));
  put('rides/note\u202e.txt', 'hello');
  const { stdout } = await run('take', join(data, 'rides'), '--bike', 'b1');
  expect(stdout).toMatch(/note\\u\{202e\}\.txt: set aside\. No ride file: neither FIT nor GPX nor TCX/);
  expect(stdout).toMatch(/^1 counted, 1 set aside\.$/m);
});

it('an indoor ride is kept and never said to count, by take and by tray', async () => {
  const file = put('a.gpx', gpx('2025-06-10T08:00:00Z', 10, 'indoor_cycling'));
  const { stdout } = await run('take', file, '--bike', 'b1');
  expect(stdout).toContain('a.gpx: ridden indoors, no hours added. It wears no suspension.');
  expect(stdout).toMatch(/^1 ridden indoors, no hours added\.$/m);
  const [row] = (await run('take', file, '--bike', 'b1', '--json')).rows;
  expect(row).toMatchObject({ outcome: 'kept-only', indoor: true });
  const [ride] = row!.rides as string[];
  expect((await run('tray', ride!)).stdout).toContain('; ridden indoors, counts for no unit');
  expect(await movingHours('F-1')).toBe(0);
});

describe('look', () => {
  it('changes nothing, needs no data folder, and has the keys of the contract', async () => {
    const file = put('a.gpx', gpx('2025-06-10T08:00:00Z'));
    const before = readdirSync(data, { recursive: true });
    const { status, rows } = await runBuilt(['look', file, '--json', '--now', NOW]);
    expect(readdirSync(data, { recursive: true })).toEqual(before);
    expect(status).toBe(0);
    expect(rows[0]).toMatchObject({ file, outcome: 'ride', code: null, reason: null });
    const [ride] = rows[0]!.rides as Record<string, unknown>[];
    for (const key of 'start end sport subSport indoor complete elapsedS movingS distanceM ascentM descentM severity severityQuality terrainWeight terrainS leftOut spans samples sensors notes'.split(
      ' ',
    ))
      expect(ride).toHaveProperty(key);
    expect(ride).toMatchObject({ movingS: 600, spans: 1, samples: 601, complete: true, indoor: false });
    expect(ride!.terrainS as number).toBeCloseTo((ride!.terrainWeight as number) * 600, 3);
  });

  it('asks, refuses and sets aside in the words of take', async () => {
    const cases = [
      [
        'untimed.gpx',
        gpxText([{ segments: [straightTrack(0, 60).map(({ time: _, ...p }) => p)] }]),
        'ask',
        'no-times',
      ],
      ['future.gpx', gpx('2027-06-10T08:00:00Z'), 'ask', 'clock-future'],
      ['run.gpx', gpx('2025-06-10T08:00:00Z', 10, 'running'), 'no-ride', 'other-sport'],
      ['note.txt', 'hello', 'set-aside', 'not-fit-or-gpx'],
      ['empty.fit', '', 'set-aside', 'empty'],
    ] as const;
    for (const [name, bytes, outcome, code] of cases) {
      const { status, rows } = await runBuilt(['look', put(name, bytes), '--json', '--now', NOW]);
      expect([name, rows[0]!.outcome, rows[0]!.code]).toEqual([name, outcome, code]);
      expect(status).toBe(outcome === 'set-aside' ? 1 : 0);
      expect(String(rows[0]!.reason).length).toBeGreaterThan(10);
    }
  });
});

describe('tray', () => {
  const KEYS = [
    'id',
    'file',
    'code',
    'question',
    'start',
    'movingHours',
    'rider',
    'bike',
    'sameAs',
    'answers',
  ];

  it('is empty, then shows what waits with a question and its answers', async () => {
    expect((await run('tray')).stdout).toBe('The tray is empty.\n');
    await run('take', put('a.gpx', gpx('2025-06-10T08:00:00Z')), '--rider', 'r1');
    const [row] = (await run('tray', '--json')).rows;
    for (const key of KEYS) expect(row).toHaveProperty(key);
    expect(row).toMatchObject({ code: 'which-bike', rider: 'r1', start: '2025-06-10T08:00:00Z' });
    const { stdout } = await run('tray');
    expect(stdout).toContain('Which bike was this on?');
    expect(stdout).toMatch(/stanchion tray \S+ --bike b1 +it was on this bike/);
    expect(stdout).toMatch(/stanchion tray \S+ --ride no +it is no bike ride/);
  });

  it('of a ride handed over for two bikes it asks which of them, by name', async () => {
    const file = put('a.gpx', gpx('2025-06-10T08:00:00Z'));
    await run('take', file, '--bike', 'b1');
    const { stdout } = await run('take', file, '--bike', 'b2');
    expect(stdout).toContain('It was handed over for b1 and for b2. Which bike was it on?');
    expect((await run('tray', '--json')).rows).toMatchObject([{ code: 'which-bike', named: ['b1', 'b2'] }]);
  });

  it('an answer counts the ride, a correction moves it, and both say who and when', async () => {
    await run('take', put('a.gpx', gpx('2025-06-10T08:00:00Z', 60)), '--rider', 'r1');
    const id = String((await run('tray', '--json')).rows[0]!.id);
    expect((await run('tray', id, '--bike', 'b1', '--json')).rows[0]).toEqual({
      did: 'answer',
      ids: [id],
      problems: [],
      changed: [{ unit: 'F-1', movingS: 3600, terrainS: 3600 }],
    });
    expect([await movingHours('F-1'), await movingHours('F-2')]).toEqual([1, 0]);
    const moved = await run('tray', id, '--bike', 'b2');
    expect(moved.stdout).toMatch(/bike b2 \(chosen\); counts/);
    expect([await movingHours('F-1'), await movingHours('F-2')]).toEqual([0, 1]);
    const [told] = (await run('tray', id, '--json')).rows;
    expect(told).toMatchObject({ id, bike: 'b2', bikeRule: 'chosen', question: null, dismissed: false });
    expect(told!.said).toEqual([
      expect.objectContaining({ by: 'command line', at: NOW, bike: 'b1' }),
      expect.objectContaining({ by: 'command line', at: NOW, bike: 'b2' }),
    ]);
    expect((await run('tray', id)).stdout).toMatch(/2025-06-18T12:00:00Z {2}command line: bike b2/);
    await run('tray', id, '--bike', 'b1');
    expect([await movingHours('F-1'), await movingHours('F-2')]).toEqual([1, 0]);
    expect((await run('check', '--json')).rows[0]).toMatchObject({ ok: true });
  });

  it('no keeps the ride and counts nothing; yes takes it up again', async () => {
    const [taken] = (
      await run('take', put('a.gpx', gpx('2025-06-10T08:00:00Z', 60)), '--bike', 'b1', '--json')
    ).rows;
    const [id = ''] = taken!.rides as string[];
    expect((await run('tray', id, '--ride', 'no')).stdout).toMatch(/not counted as a ride/);
    expect(await movingHours('F-1')).toBe(0);
    expect((await run('tray', '--json')).rows).toEqual([]);
    await run('tray', id, '--ride', 'yes');
    expect(await movingHours('F-1')).toBe(1);
  });

  it('answers that say nothing are refused with what to say instead', async () => {
    await run('take', put('a.gpx', gpx('2025-06-10T08:00:00Z', 60)), '--rider', 'r1');
    const id = String((await run('tray', '--json')).rows[0]!.id);
    for (const [args, says] of [
      [['--ride', 'yes'], /Say which bike/],
      [['--on', '2025-06-11T08:00:00Z'], /clock was right/],
      [['--minutes', '30'], /tracks without times/],
      [['--on', '2026-06-11T08:00:00Z'], /is in the future/],
      [['--bike', 'none'], /no bike "none"/],
    ] as const) {
      const { status, stderr } = await run('tray', id, ...args);
      expect([args, status, says.test(stderr)]).toEqual([args, 1, true]);
    }
    expect((await run('tray', id, '--ride', 'perhaps')).status).toBe(2);
    expect((await run('tray', '--bike', 'b1')).status).toBe(2);
    expect((await run('tray', 'nosuchride', '--bike', 'b1')).status).toBe(1);
    expect((await run('tray', '--json')).rows).toHaveLength(1);
  });
});
