/** What is planned and learnt, by the commands. */
import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-02T12:00:00Z';
const RIDDEN = { b1: 12.5, b2: 8, b3: 22 };
const bikes = Object.keys(RIDDEN);
/** Invented: a team of three forks with 12.5, 8 and 22 hours on them, an interval of 20, and a race on a Saturday. */
const setup = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
    remindersFrom: '2020-01-01',
    placesAWeek: 2,
  },
  fleets: [{ id: 't1', name: 'Test team' }],
  bikes: bikes.map((id) => ({ id, fleet: 't1', name: `Bike ${id}`, type: 'gravity' })),
  units: bikes.map((id) => ({ tag: `F-${id}`, unitKind: 'fork', history: 'new' })),
  fittings: bikes.map((id) => ({ unit: `F-${id}`, bike: id, from: '2025-05-01' })),
  intervals: [
    {
      unitKind: 'fork',
      serviceKind: 'lower-leg',
      scope: { fleet: 't1' },
      terrainHours: 20,
      movingHoursCeiling: null,
    },
  ],
  hours: Object.entries(RIDDEN).map(([bike, hours]) => ({ bike, on: '2025-05-20', minutes: hours * 60 })),
  races: [{ id: 'x1', name: 'Test race', on: '2025-06-14', bikes, practiceHours: 4, raceHours: 3.5 }],
  parts: [{ unitKind: 'fork', serviceKind: 'lower-leg', part: 'foam ring', count: 2 }],
  shelf: [{ part: 'foam ring', count: 1, deliveryDays: 2, countedOn: '2025-06-01' }],
};

/** Imported once; each test works on a copy. */
const base = mkdtempSync(join(tmpdir(), 'stanchion-plan-'));
let data = base;
const run = (...args: string[]) => runHere([...args, '--data', data, '--now', NOW]);

beforeAll(async () => {
  const file = join(base, 'setup.json');
  writeFileSync(file, JSON.stringify(setup));
  expect((await run('import', file)).status).toBe(0);
});
beforeEach(() => {
  data = scratchFolder();
  cpSync(base, data, { recursive: true });
});
afterAll(() => rmSync(base, { recursive: true }));

describe('races', () => {
  it('12.5 hours and 7.5 at the race reach 20: by Wednesday 11 June; a bike at 8.0 is not listed', async () => {
    const [race, ...others] = (await run('races', '--json')).rows;
    expect(others).toEqual([]);
    expect(race).toMatchObject({ race: 'x1', on: '2025-06-14', openDaysBefore: 3, stopped: [] });
    expect(race!.jobs).toMatchObject([
      { unit: 'F-b3', bike: 'b3', serviceKind: 'lower-leg', by: '2025-06-11', isLate: false },
      { unit: 'F-b1', bike: 'b1', serviceKind: 'lower-leg', by: '2025-06-11', isLate: false },
    ]);
    expect(race!.parts).toEqual([{ part: 'foam ring', count: 4, measure: 'pieces' }]);
    expect(race!.carry).toEqual([{ part: 'foam ring', count: 6, measure: 'pieces' }]);
  });

  it('a crash mark is told, and nothing else of that unit', async () => {
    await run('mark', 'F-b1', 'stop', '--why', 'hit a wall');
    const [race] = (await run('races', 'x1', '--json')).rows;
    expect(race).toMatchObject({ stopped: [{ unit: 'F-b1', bike: 'b1' }], jobs: [{ unit: 'F-b3' }] });
  });

  it('people read them as a table, and a race that is not there is named', async () => {
    expect((await run('races')).stdout).toMatch(
      /2025-06-11 +2025-06-02 +F-b1 +b1 +lower-leg service +lower-leg service: terrain hours +20\.0 +20\.0/,
    );
    const missing = await run('races', 'zebra');
    expect([missing.status, missing.stderr]).toEqual([1, expect.stringContaining('no race "zebra"')]);
  });
});

describe('the weeks', () => {
  it('stand as lines with their spread, what is due in the first', async () => {
    const weeks = (await run('load', '--weeks', '3', '--json')).rows;
    expect(weeks.map((week) => [week.from, week.to])).toEqual([
      ['2025-06-02', '2025-06-08'],
      ['2025-06-09', '2025-06-15'],
      ['2025-06-16', '2025-06-22'],
    ]);
    // Seven open days of 480 minutes, of which 80 % are used; F-b3 is due and nobody has to be reminded.
    expect(weeks[0]).toMatchObject({ openDays: 7, usableMinutes: 2688, places: 2, booked: 0, response: 0.5 });
    const { mean, p10, p90 } = weeks[0]!.services as { mean: number; p10: number; p90: number };
    expect([mean >= 1, p10, p10 <= p90]).toEqual([true, 1, true]);
    expect((await run('load')).stdout).toMatch(/of the riders who are reminded come/);
    expect((await run('load', '--weeks', '0')).status).toBe(2);
  });

  it('parts stand against the shelf, and a logged service is taken off the count', async () => {
    const rings = async () => (await run('parts', '--json')).rows.find((row) => row.part === 'foam ring')!;
    expect(await rings()).toMatchObject({
      left: 1,
      shortOn: '2025-06-02',
      orderBy: '2025-06-02',
      isLate: true,
    });
    writeFileSync(join(data, 'shelf.csv'), 'part,count,deliveryDays,countedOn\nfoam ring,40,2,2025-06-02\n');
    expect((await run('import', 'shelf', join(data, 'shelf.csv'))).status).toBe(0);
    expect(await rings()).toMatchObject({ left: 40, orderBy: null, orderCount: 0 });
    const later = ['--data', data, '--now', '2025-06-02T13:00:00Z'];
    expect((await runHere(['service', 'F-b3', 'lower-leg', '--on', '2025-06-02', ...later])).status).toBe(0);
    expect(await rings()).toMatchObject({ left: 38 });
  });

  it('what is wrong with a part is named by row and column', async () => {
    writeFileSync(join(data, 'parts.csv'), 'unitKind,serviceKind,part,count\nfork,lower-leg,washer,-2\n');
    const refused = await run('import', 'parts', join(data, 'parts.csv'));
    expect([refused.status, refused.stderr]).toEqual([1, expect.stringMatching(/row 2, column count/)]);
  });
});

describe('the day and the findings', () => {
  it('what races need is pulled first, then what is due', async () => {
    const [plan] = (await run('day', '2025-06-03', '--json')).rows;
    expect(plan).toMatchObject({ on: '2025-06-03', isOpen: true, usableMinutes: 384 });
    expect(plan!.jobs).toMatchObject([
      {
        unit: 'F-b1',
        reason: 'race',
        by: '2025-06-11',
        race: 'Test race',
        minutes: 60,
        minutesSoFar: 60,
        fits: true,
      },
      { unit: 'F-b3', reason: 'race', minutesSoFar: 120 },
    ]);
    expect((await run('day', 'tomorrow')).status).toBe(2);
  });

  it('findings say how much was seen while it is too little', async () => {
    const findings = join(data, 'findings.json');
    writeFileSync(findings, JSON.stringify({ foamRings: 'dark' }));
    await run('service', 'F-b3', 'lower-leg', '--on', '2025-06-02', '--findings', findings);
    expect((await run('findings', '--json')).rows).toEqual([
      {
        services: 1,
        dark: 1,
        missing: { services: 39, dark: 9 },
        lesson: null,
        allDarkFrom: null,
        unusable: 0,
        unusableBy: { 'never-new': 0, 'not-said': 0, 'not-ridden': 0 },
      },
    ]);
  });
});

describe('the jobs at the workshop', () => {
  it('say their step and what they are for; one that came with nothing due is there for what comes next', async () => {
    expect((await run('jobs')).stdout).toContain('No unit is at the workshop.');
    await run('bench', 'F-b3', 'in');
    await run('bench', 'F-b2', 'in');
    const { rows } = await run('jobs', '--json');
    expect(rows).toMatchObject([
      {
        ...{
          unit: 'F-b2',
          unitKind: 'fork',
          bike: 'b2',
          rider: null,
          step: 'arrived',
          arrivedOn: '2025-06-02',
        },
        ...{ promisedFor: null, price: null, missing: null, wish: null, informedBy: null, did: [] },
        ...{ serviceKind: 'lower-leg', nothingDue: true, historyUnknown: false, minutes: 60 },
      },
      { unit: 'F-b3', serviceKind: 'lower-leg', nothingDue: false, minutes: 60 },
    ]);
    const table = (await run('jobs')).stdout;
    expect(table).toMatch(/F-b2 +arrived +next: lower-leg service/);
    expect(table).toMatch(/F-b3 +arrived +lower-leg service/);
  });

  it('the day holds what they take until they are done', async () => {
    await run('bench', 'F-b2', 'in');
    const day = async () => (await run('day', '2025-06-02', '--json')).rows[0]!.jobs as { unit: string }[];
    expect((await day()).find(({ unit }) => unit === 'F-b2')).toMatchObject({
      ...{ reason: 'on-the-bench', serviceKind: 'lower-leg', isAhead: true, minutes: 60 },
    });
    await run('service', 'F-b2', 'lower-leg', '--on', '2025-06-02');
    expect((await day()).map(({ unit }) => unit)).not.toContain('F-b2');
  });
});
