/** The technician's commands. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
const workshop = {
  id: 'w1',
  name: 'Test bench',
  timeZone: 'Europe/Lisbon',
  openDays: ['tue', 'wed', 'thu', 'fri', 'sat'],
  remindersFrom: '2020-01-01',
};
const setup = {
  workshop,
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: ['b1', 'b2'].map((id) => ({ id, rider: 'r1', name: `Bike ${id}`, type: 'trail' })),
  units: ['F-1', 'F-2'].map((tag) => ({ tag, unitKind: 'fork', history: 'new' })),
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2025-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2025-01-01' },
  ],
};

let data = '';
const run = (...args: string[]) => runHere([...args, '--data', data, '--now', NOW]);
const dueOf = async (unit: string, kind = 'lower-leg') =>
  (await run('due', '--json')).rows.find((row) => row.unit === unit && row.serviceKind === kind)!;

beforeEach(async () => {
  data = scratchFolder();
  const file = join(data, 'setup.json');
  writeFileSync(file, JSON.stringify(setup));
  expect((await run('import', file)).status).toBe(0);
});

describe('hours by where they come from', () => {
  it('stand on a line each, what went unrecorded apart; entering half of a thing is refused', async () => {
    await run('hours', 'b1', '--on', '2025-06-01', '--minutes', '600', '--ground', 'rough');
    const entered = await run('hours', 'b1', '--unrecorded', '10', '--from', '2025-05-01', '--json');
    expect(entered.rows).toMatchObject([{ did: expect.stringMatching(/^10 %/), ids: [expect.any(String)] }]);
    expect((await run('hours', 'b1', '--json')).rows).toEqual([
      { bike: 'b1', source: 'recorded', movingHours: 0, terrainHours: 0 },
      { bike: 'b1', source: 'by-hand', movingHours: 10, terrainHours: 20 },
      { bike: 'b1', source: 'unrecorded', movingHours: 0, terrainHours: 0 },
      { bike: 'b1', source: 'declared', movingHours: 0, terrainHours: 0 },
    ]);
    expect((await run('hours', 'b1')).stdout).toMatch(/^entered by hand +10\sh +20\sh$/m);
    expect((await run('hours', 'b1', '--unrecorded', '10')).status).toBe(2);
    expect((await run('hours', 'b1', '--on', '2025-06-01')).status).toBe(2);
    expect((await run('hours', 'b1', '--unrecorded', '95', '--from', '2024-01-01')).status).toBe(1);
    expect((await run('hours', 'b1', '--unrecorded', '5', '--from', '2025-06-01')).stderr).toMatch(/already/);
  });
});

describe('hours and services', () => {
  it('two bikes with equal moving hours on different ground have different hours left', async () => {
    expect(
      (await run('hours', 'b1', '--on', '2025-06-01', '--minutes', '600', '--ground', 'smooth')).status,
    ).toBe(0);
    expect(
      (await run('hours', 'b2', '--on', '2025-06-01', '--minutes', '600', '--ground', 'rough')).status,
    ).toBe(0);
    const [smooth, rough] = [await dueOf('F-1'), await dueOf('F-2')];
    expect([smooth.movingHoursSince, rough.movingHoursSince]).toEqual([10, 10]);
    // Equal hours weigh ½ and 2 with the default weights.
    expect([smooth.hoursLeft, rough.hoursLeft]).toEqual([45, 30]);
  });

  it('a service begins a period, a job without a clock does not, and a coil has no air job', async () => {
    await run('hours', 'b1', '--on', '2025-06-01', '--minutes', '1000');
    await run('hours', 'b1', '--on', '2025-06-03', '--minutes', '1000');
    await run('hours', 'b1', '--on', '2025-06-05', '--minutes', '1120');
    expect(await dueOf('F-1')).toMatchObject({ terrainHoursSince: 52, state: 'due', limit: 'terrain-hours' });
    expect((await run('service', 'F-1', 'tune', '--on', '2025-06-10')).status).toBe(0);
    const former = await run('service', 'F-1', 'wipers-only', '--on', '2025-06-10');
    expect([former.status, former.stderr]).toEqual([1, expect.stringContaining('lower-leg')]);
    expect((await dueOf('F-1')).terrainHoursSince).toBe(52);
    expect((await run('service', 'F-1', 'lower-leg', '--on', '2025-06-05')).status).toBe(0);
    expect((await dueOf('F-1')).terrainHoursSince).toBeCloseTo(1120 / 60, 3);
    expect((await dueOf('F-1', 'damper')).terrainHoursSince).toBe(52);
    expect((await run('service', 'F-1', 'full', '--on', '2025-06-06')).status).toBe(0);
    for (const kind of ['lower-leg', 'damper', 'full'])
      expect((await dueOf('F-1', kind)).terrainHoursSince).toBe(0);
    const refused = await run('service', 'F-1', 'air-sleeve', '--on', '2025-06-10');
    expect([refused.status, refused.stderr]).toEqual([1, expect.stringContaining('air-sleeve')]);
    expect((await run('service', 'F-1', 'full', '--on', '2025-06-19')).status).toBe(1);
  });

  it('a crash mark stands above all, and the bench beside it', async () => {
    await run('mark', 'F-1', 'stop', '--why', 'hit a wall');
    await run('bench', 'F-2', 'in');
    expect([(await dueOf('F-1')).state, (await dueOf('F-2')).state]).toEqual(['stop-riding', 'on-the-bench']);
    const cleared = await run('mark', 'F-1', 'clear', '--why', 'seen by a technician', '--json');
    expect(cleared.rows).toMatchObject([{ problems: [{ code: 'no-list', source: 'F-1' }] }]);
    expect(JSON.stringify(cleared.rows)).toMatch(/--looked FILE\.json.*crown/);
    await run('bench', 'F-2', 'out');
    expect([(await dueOf('F-1')).state, (await dueOf('F-2')).state]).toEqual(['in-time', 'in-time']);
  });

  it('a mark is cleared by the after-crash list, with every part looked at and none that does harm', async () => {
    const sound = {
      ...{
        outside: 'sound',
        crown: 'quiet',
        axle: 'sound',
        arch: 'sound',
        stanchions: 'clean',
        bushings: 'none',
      },
      ...{ fullTravel: 'reached', extends: 'extends', damper: 'smooth', airSpring: 'holds' },
    };
    const clear = async (looked: object) => {
      const file = join(data, 'looked.json');
      writeFileSync(file, JSON.stringify(looked));
      return run('mark', 'F-1', 'clear', '--why', 'sound', '--looked', file, '--by', 'Alma', '--json');
    };
    await run('mark', 'F-1', 'stop', '--why', 'hit a wall');
    const { crown: _, ...unseen } = sound;
    for (const [looked, why] of [
      [unseen, /crown/],
      [{ ...sound, crown: 'cracked' }, /crack/],
    ] as const) {
      const refused = await clear(looked);
      expect([refused.status, JSON.stringify(refused.rows)]).toEqual([1, expect.stringMatching(why)]);
      expect((await dueOf('F-1')).state).toBe('stop-riding');
    }
    const done = await clear(sound);
    expect(done.rows).toMatchObject([{ problems: [] }]);
    expect((await dueOf('F-1')).state).toBe('in-time');
    expect((await run('story', 'F-1')).stdout).toContain('Alma');
  });
});

describe('fittings', () => {
  it('a swap moves both units in one action, and hours follow the unit', async () => {
    await run('hours', 'b1', '--on', '2025-06-01', '--minutes', '60');
    expect((await run('swap', 'F-1', 'F-2', '--at', '2025-06-02')).status).toBe(0);
    await run('hours', 'b1', '--on', '2025-06-03', '--minutes', '120');
    expect([(await dueOf('F-1')).movingHoursSince, (await dueOf('F-1')).bike]).toEqual([1, 'b2']);
    expect([(await dueOf('F-2')).movingHoursSince, (await dueOf('F-2')).bike]).toEqual([2, 'b1']);
  });

  it('a boxed unit keeps its hours and stands on no bike', async () => {
    await run('hours', 'b1', '--on', '2025-06-01', '--minutes', '60');
    expect((await run('unfit', 'F-1', '--at', '2025-06-01', '--after-last')).status).toBe(0);
    await run('hours', 'b1', '--on', '2025-06-03', '--minutes', '120');
    expect(await dueOf('F-1')).toMatchObject({ movingHoursSince: 1, bike: null });
  });

  it('what overlaps is refused, naming the conflict, and nothing is half saved', async () => {
    const twice = await run('fit', 'F-1', 'b2', '--from', '2025-06-01');
    expect([twice.status, twice.stderr]).toEqual([1, expect.stringMatching(/F-1 is on bike b1/)]);
    await run('unfit', 'F-1', '--at', '2025-06-01');
    const second = await run('fit', 'F-1', 'b2', '--from', '2025-06-02');
    expect([second.status, second.stderr]).toEqual([1, expect.stringMatching(/Bike b2 has F-2/)]);
    expect((await dueOf('F-1')).bike).toBeNull();
    expect((await run('check', '--json')).rows).toMatchObject([{ ok: true }]);
  });
});
