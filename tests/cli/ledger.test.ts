/** The technician's commands, through the built program. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { runProgram, scratchFolder } from '../fixtures/program.js';

const NOW = '2025-06-18T12:00:00Z';
const workshop = {
  id: 'w1',
  name: 'Test bench',
  timeZone: 'Europe/Lisbon',
  openDays: ['tue', 'wed', 'thu', 'fri', 'sat'],
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
const run = (...args: string[]) => runProgram([...args, '--data', data, '--now', NOW]);
const dueOf = (unit: string, kind = 'lower-leg') =>
  run('due', '--json').rows.find((row) => row.unit === unit && row.serviceKind === kind)!;

beforeEach(() => {
  data = scratchFolder();
  const file = join(data, 'setup.json');
  writeFileSync(file, JSON.stringify(setup));
  expect(run('import', file).status).toBe(0);
});

describe('hours and services', () => {
  it('two bikes with equal moving hours on different ground have different hours left', () => {
    expect(run('hours', 'b1', '--on', '2025-06-01', '--minutes', '600', '--ground', 'smooth').status).toBe(0);
    expect(run('hours', 'b2', '--on', '2025-06-01', '--minutes', '600', '--ground', 'rough').status).toBe(0);
    const [smooth, rough] = [dueOf('F-1'), dueOf('F-2')];
    expect([smooth.movingHoursSince, rough.movingHoursSince]).toEqual([10, 10]);
    // Equal hours weigh ½ and 2 with the default weights.
    expect([smooth.hoursLeft, rough.hoursLeft]).toEqual([45, 30]);
  });

  it('a service begins a period, wipers alone do not, and a coil has no air job', () => {
    run('hours', 'b1', '--on', '2025-06-01', '--minutes', '1000');
    run('hours', 'b1', '--on', '2025-06-03', '--minutes', '1000');
    run('hours', 'b1', '--on', '2025-06-05', '--minutes', '1120');
    expect(dueOf('F-1')).toMatchObject({ terrainHoursSince: 52, state: 'due', limit: 'terrain-hours' });
    expect(run('service', 'F-1', 'wipers-only', '--on', '2025-06-10').status).toBe(0);
    expect(dueOf('F-1').terrainHoursSince).toBe(52);
    expect(run('service', 'F-1', 'lower-leg', '--on', '2025-06-05').status).toBe(0);
    expect(dueOf('F-1').terrainHoursSince).toBeCloseTo(1120 / 60, 3);
    expect(dueOf('F-1', 'damper').terrainHoursSince).toBe(52);
    expect(run('service', 'F-1', 'full', '--on', '2025-06-06').status).toBe(0);
    for (const kind of ['lower-leg', 'damper', 'full']) expect(dueOf('F-1', kind).terrainHoursSince).toBe(0);
    const refused = run('service', 'F-1', 'air-sleeve', '--on', '2025-06-10');
    expect([refused.status, refused.stderr]).toEqual([1, expect.stringContaining('air-sleeve')]);
    expect(run('service', 'F-1', 'full', '--on', '2025-06-19').status).toBe(1);
  });

  it('a crash mark stands above all, and the bench beside it', () => {
    run('mark', 'F-1', 'stop', '--why', 'hit a wall');
    run('bench', 'F-2', 'in');
    expect([dueOf('F-1').state, dueOf('F-2').state]).toEqual(['stop-riding', 'on-the-bench']);
    run('mark', 'F-1', 'clear', '--why', 'seen by a technician');
    run('bench', 'F-2', 'out');
    expect([dueOf('F-1').state, dueOf('F-2').state]).toEqual(['in-time', 'in-time']);
  });
});

describe('fittings', () => {
  it('a swap moves both units in one action, and hours follow the unit', () => {
    run('hours', 'b1', '--on', '2025-06-01', '--minutes', '60');
    expect(run('swap', 'F-1', 'F-2', '--at', '2025-06-02').status).toBe(0);
    run('hours', 'b1', '--on', '2025-06-03', '--minutes', '120');
    expect([dueOf('F-1').movingHoursSince, dueOf('F-1').bike]).toEqual([1, 'b2']);
    expect([dueOf('F-2').movingHoursSince, dueOf('F-2').bike]).toEqual([2, 'b1']);
  });

  it('a boxed unit keeps its hours and stands on no bike', () => {
    run('hours', 'b1', '--on', '2025-06-01', '--minutes', '60');
    expect(run('unfit', 'F-1', '--at', '2025-06-01', '--after-last').status).toBe(0);
    run('hours', 'b1', '--on', '2025-06-03', '--minutes', '120');
    expect(dueOf('F-1')).toMatchObject({ movingHoursSince: 1, bike: null });
  });

  it('what overlaps is refused, naming the conflict, and nothing is half saved', () => {
    const twice = run('fit', 'F-1', 'b2', '--from', '2025-06-01');
    expect([twice.status, twice.stderr]).toEqual([1, expect.stringMatching(/F-1 is on bike b1/)]);
    run('unfit', 'F-1', '--at', '2025-06-01');
    const second = run('fit', 'F-1', 'b2', '--from', '2025-06-02');
    expect([second.status, second.stderr]).toEqual([1, expect.stringMatching(/Bike b2 has F-2/)]);
    expect(dueOf('F-1').bike).toBeNull();
    expect(run('check', '--json').rows).toMatchObject([{ ok: true }]);
  });
});
