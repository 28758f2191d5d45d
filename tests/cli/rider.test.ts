/** What is held of a rider, shown and forgotten, through the commands. */
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { gpxText, straightTrack } from '../fixtures/gpxFile.js';
import { scratchFolder } from '../fixtures/program.js';
import { runBuilt, runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
const NAME = 'Quillon Testrider';
const EMAIL = 'quillon@example.org';
const setup = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
    remindersFrom: '2020-01-01',
    email: 'bench@example.org',
  },
  riders: [
    { id: 'quillon', name: NAME, email: EMAIL, phone: '+000 555 0100', addressConfirmed: true },
    { id: 'other', name: 'Other Rider', email: 'other@example.org', addressConfirmed: true },
  ],
  bikes: [
    { id: 'b1', rider: 'quillon', name: 'Bike one', type: 'trail' },
    { id: 'b2', rider: 'other', name: 'Bike two', type: 'trail' },
  ],
  units: [
    { tag: 'F-1', unitKind: 'fork', history: 'new' },
    { tag: 'F-2', unitKind: 'fork', history: 'new' },
  ],
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2025-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2025-01-01' },
  ],
  hours: [
    { bike: 'b1', on: '2025-06-01', minutes: 1400 },
    { bike: 'b1', on: '2025-06-02', minutes: 1400 },
    { bike: 'b1', on: '2025-06-03', minutes: 1400 },
  ],
};

const ride = (from: string): string =>
  gpxText([{ type: 'mountain biking', segments: [straightTrack(Date.parse(from), 1200)] }]);

let data = '';
const run = (...args: string[]) => runHere([...args, '--data', data, '--now', NOW]);
const hours = async () =>
  (await run('due', '--json')).rows.map((row) => [
    row.unit,
    row.serviceKind,
    row.terrainHoursSince,
    row.state,
  ]);

/** Every file below the data folder that holds the text. */
const holding = (text: string): string[] =>
  readdirSync(data, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => readFileSync(path).includes(text));

/** Made once, and copied for each test. */
let made = '';

beforeAll(async () => {
  made = mkdtempSync(join(tmpdir(), 'stanchion-rider-'));
  data = join(made, 'data');
  writeFileSync(join(made, 'setup.json'), JSON.stringify(setup));
  expect((await run('import', join(made, 'setup.json'))).status).toBe(0);
  writeFileSync(join(made, 'quillon-at-home.gpx'), ride('2025-06-10T09:00:00Z'));
  writeFileSync(join(made, 'together.gpx'), ride('2025-06-11T09:00:00Z'));
  const [home, together] = [join(made, 'quillon-at-home.gpx'), join(made, 'together.gpx')];
  for (const args of [
    [home, together, '--rider', 'quillon', '--bike', 'b1'],
    [together, '--rider', 'other', '--bike', 'b2'],
  ]) {
    // Through the built program, for files are decoded in a thread of it.
    const { rows } = await runBuilt(['take', ...args, '--json', '--data', data, '--now', NOW]);
    expect(rows.map((row) => row.outcome)).toEqual(args.length === 6 ? ['counted', 'counted'] : ['counted']);
  }
  expect((await run('mails')).status).toBe(0);
  expect((await run('deliver')).status).toBe(0);
}, 60_000);

afterAll(() => rmSync(made, { recursive: true, force: true }));

beforeEach(() => {
  data = join(scratchFolder(), 'data');
  cpSync(join(made, 'data'), data, { recursive: true });
});

const originals = (): string[] =>
  readdirSync(join(data, 'originals'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => entry.name);

describe('rider export', () => {
  it('writes all that is held of the rider and nothing of others', async () => {
    const file = join(scratchFolder(), 'held.json');
    expect((await run('rider', 'quillon', 'export', file)).status).toBe(0);
    const text = readFileSync(file, 'utf8');
    const held = JSON.parse(text);
    expect(held.rider).toMatchObject({ id: 'quillon', name: NAME, email: EMAIL, phone: '+000 555 0100' });
    expect(held.bikes).toMatchObject([{ id: 'b1', rider: 'quillon' }]);
    expect(held.hours).toHaveLength(3);
    expect(held.rides).toMatchObject([{ movingHours: 0.3331 }, { bike: 'b1', bikeRule: 'chosen' }]);
    expect(held.readings).toHaveLength(2);
    expect(
      held.files.map((one: { handedOver: { name: string }[] }) => one.handedOver[0]!.name),
    ).toContainEqual(expect.stringContaining('quillon-at-home.gpx'));
    for (const { original } of held.files) expect(existsSync(join(data, original))).toBe(true);
    expect(held.mails).toMatchObject([{ mail: 'reminder', to: EMAIL, text: expect.stringContaining('F-1') }]);
    expect(text).not.toMatch(/Other Rider|other@example|"b2"|"F-2"/);
  });
});

describe('rider forget', () => {
  it('leaves no trace of who the rider was, and every hour', async () => {
    const before = await hours();
    expect(holding(EMAIL).length).toBeGreaterThan(1);
    expect(originals()).toHaveLength(2);
    const forgotten = await run('rider', 'quillon', 'forget', '--json');
    expect([forgotten.status, forgotten.stderr]).toEqual([0, '']);
    expect(forgotten.rows).toMatchObject([{ originals: 1, erased: 0 }]);
    for (const text of ['Quillon', 'quillon', EMAIL, '555 0100'])
      expect([text, holding(text)]).toEqual([text, []]);
    expect(originals()).toHaveLength(1);
    expect(holding('other@example.org').length).toBeGreaterThan(0);
    expect(await hours()).toEqual(before);
    expect((await run('check', '--json')).rows).toMatchObject([{ ok: true }]);
  });

  it('reaches the backups that are kept here and the stores that a restore had set aside', async () => {
    const backups = join(data, 'backups');
    mkdirSync(backups, { recursive: true });
    for (const day of ['2025-06-14', '2025-06-15'])
      expect((await run('backup', join(backups, `stanchion-${day}.db`))).status).toBe(0);
    expect((await run('restore', join(backups, 'stanchion-2025-06-15.db'))).status).toBe(0);
    expect(holding(EMAIL).filter((name) => /backups|replaced/.test(name)).length).toBeGreaterThan(2);
    const forgotten = await run('rider', 'quillon', 'forget', '--json');
    expect(forgotten.rows).toMatchObject([{ backups: 2, replaced: 1 }]);
    expect(readdirSync(backups)).toHaveLength(1);
    for (const text of ['Quillon', EMAIL]) expect([text, holding(text)]).toEqual([text, []]);
  });

  it('writes to the rider no more, and knows nobody of that name', async () => {
    await run('rider', 'quillon', 'forget');
    const later = await runHere(['mails', '--json', '--data', data, '--now', '2025-06-19T12:00:00Z']);
    expect(
      later.rows.filter((row) => row.to !== 'workshop' && row.to !== 'other' && row.decision === 'queued'),
    ).toEqual([]);
    expect((await run('rider', 'quillon', 'forget')).status).toBe(1);
    expect((await run('take', 'x.gpx', '--rider', 'quillon')).status).toBe(1);
  });

  it('is done again when a backup or an export from before comes back', async () => {
    const [backup, exported] = [join(scratchFolder(), 'b.db'), join(scratchFolder(), 'e.json')];
    expect((await run('backup', backup)).status).toBe(0);
    expect((await run('export', exported)).status).toBe(0);
    await run('rider', 'quillon', 'forget');
    const restored = await run('restore', backup, '--json');
    expect(restored.rows).toMatchObject([{ did: 'restore', forgotten: 1 }]);
    rmSync(String(restored.rows[0]!.kept));
    for (const text of ['Quillon', EMAIL]) expect(holding(text)).toEqual([]);
    for (const name of readdirSync(data)) if (name.startsWith('stanchion.db')) rmSync(join(data, name));
    expect((await run('import', exported)).status).toBe(0);
    for (const text of ['Quillon', EMAIL]) expect(holding(text)).toEqual([]);
  });

  it('asks for the drop folder to be taken away first, and takes out what people typed of the rider', async () => {
    mkdirSync(join(data, 'inbox', 'quillon'), { recursive: true });
    const refused = await run('rider', 'quillon', 'forget');
    expect([refused.status, refused.stderr]).toEqual([
      1,
      expect.stringMatching(/inbox.quillon.*\n.*Move it away/),
    ]);
    expect(holding(EMAIL).length).toBeGreaterThan(0);
    rmSync(join(data, 'inbox', 'quillon'), { recursive: true });
    const note = [
      'service',
      'F-1',
      'lower-leg',
      '--on',
      '2025-06-17',
      '--note',
      `brought by ${NAME}`,
      '--json',
    ];
    expect((await run(...note)).status).toBe(0);
    expect(holding(NAME).length).toBeGreaterThan(0);
    expect((await run('rider', 'quillon', 'forget', '--json')).rows).toMatchObject([{ erased: 1 }]);
    expect(holding(NAME)).toEqual([]);
    expect((await run('check', '--json')).rows).toMatchObject([{ ok: true }]);
  });

  it('says how it is called', async () => {
    for (const args of [['forget', 'x.json'], ['export'], ['remember']])
      expect((await run('rider', 'quillon', ...args)).status).toBe(2);
  });
});
