/** Corrections and the service book, as commands. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { type Ran, scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
const setup = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['tue', 'wed', 'thu', 'fri', 'sat'],
  },
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: ['b1', 'b2'].map((id) => ({ id, rider: 'r1', name: `Bike ${id}`, type: 'trail' })),
  units: ['F-1', 'F-2'].map((tag) => ({ tag, unitKind: 'fork', history: 'new' })),
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2025-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2025-01-01' },
  ],
  services: [{ unit: 'F-1', serviceKind: 'lower-leg', on: '2025-03-01', findings: { foamRings: 'honey' } }],
  hours: [
    { bike: 'b1', on: '2025-02-20', minutes: 60 },
    { bike: 'b1', on: '2025-03-10', minutes: 120 },
  ],
};

let data = '';
const run = (...args: string[]): Promise<Ran> => runHere([...args, '--data', data, '--now', NOW]);
const story = async (tag: string) => (await run('story', tag, '--json')).rows;
const factOf = async (tag: string, kind: string): Promise<string> =>
  String((await story(tag)).find((line) => line.kind === kind && line.isInForce)!.fact);
const hoursOf = async (unit: string) =>
  (await run('due', '--json')).rows.find((row) => row.unit === unit && row.serviceKind === 'lower-leg')!
    .movingHoursSince;
const correct = (fact: string, changes: object, ...rest: string[]): Promise<Ran> => {
  const file = join(data, 'changes.json');
  writeFileSync(file, JSON.stringify(changes));
  return run('correct', fact, '--with', file, '--why', 'the bill says so', ...rest);
};

beforeEach(async () => {
  data = scratchFolder();
  const file = join(data, 'setup.json');
  writeFileSync(file, JSON.stringify(setup));
  expect((await run('import', file)).status).toBe(0);
});

describe('correct', () => {
  it('moves a service to its right day, and hours follow', async () => {
    expect(await hoursOf('F-1')).toBe(2);
    const done = await correct(await factOf('F-1', 'service'), { on: '2025-02-01' }, '--json');
    expect([done.status, done.rows]).toEqual([
      0,
      [{ did: expect.any(String), ids: [await factOf('F-1', 'service')], problems: [] }],
    ]);
    expect(await hoursOf('F-1')).toBe(3);
    expect((await run('check', '--json')).rows).toMatchObject([{ ok: true }]);
  });

  it('keeps what is not named, takes back what is null, and a new kind of job restarts its own clocks', async () => {
    expect(
      (await correct(await factOf('F-1', 'service'), { serviceKind: 'full', findings: null })).status,
    ).toBe(0);
    const [line] = (await story('F-1')).filter((one) => one.kind === 'service' && one.isInForce);
    expect(line).toMatchObject({
      row: { on: '2025-03-01', restarts: ['lower-leg', 'air-spring', 'damper', 'full'], findings: null },
      why: 'the bill says so',
      by: 'command line',
    });
  });

  it('refuses what the import would refuse, and says where', async () => {
    const fact = await factOf('F-1', 'service');
    for (const [changes, said] of [
      [{ on: '2025-02-30' }, /on must be a day/],
      [{ colour: 'red' }, /no such name: colour/],
      [{ unit: 'F-9' }, /no unit "F-9"/],
      [{ serviceKind: 'air-sleeve' }, /F-1 is a fork and has no "air-sleeve"/],
      [{ on: '2025-06-19' }, /is in the future/],
      [{ on: '2024-12-31' }, /came new on 2025-01-01/],
      [{ findings: { foamRings: 'blue' } }, /pale, honey, dark/],
      [{ on: '2025-03-01' }, /what it says already/],
    ] as const) {
      const refused = await correct(fact, changes);
      expect([refused.status, refused.stderr]).toEqual([1, expect.stringMatching(said)]);
    }
    expect(await factOf('F-1', 'service')).toBe(fact);
  });

  it('lets one of two editors through and tells the other who was first', async () => {
    const fact = await factOf('F-1', 'service');
    expect((await correct(fact, { note: 'one' })).status).toBe(0);
    const second = await correct(fact, { note: 'two' });
    expect([second.status, second.stderr]).toEqual([
      1,
      expect.stringMatching(/command line replaced it at 2025-06-18T12:00:00Z/),
    ]);
    expect(second.stderr).toContain(await factOf('F-1', 'service'));
  });

  it('needs a reason and a fact that is there', async () => {
    expect((await run('void', await factOf('F-1', 'service'), '--why', ' ')).status).toBe(2);
    expect((await run('void', 'no-such-fact', '--why', 'x')).status).toBe(1);
  });
});

describe('rename', () => {
  it('gives a unit or a bike its right name; the old one still finds it, and the book tells of it', async () => {
    const done = await run('rename', 'unit', 'F-1', 'F-11', '--why', 'misread');
    expect([done.status, done.stdout]).toEqual([0, 'Done: unit F-1 is called F-11.\n']);
    expect((await run('rename', 'bike', 'b1', 'green', '--why', 'misread')).status).toBe(0);
    expect(await hoursOf('F-11')).toBe(2);
    expect((await run('story', 'F-1')).stdout).toMatch(/was: F-1 fork.*command line corrected it: misread/);
    expect((await run('import', join(data, 'setup.json'), '--json')).rows).toMatchObject([{ ids: [] }]);
    expect((await run('check', '--json')).rows).toMatchObject([{ ok: true }]);
  });

  it('refuses a name that is taken, a kind that has none, and no reason', async () => {
    const taken = await run('rename', 'unit', 'F-1', 'F-2', '--why', 'x');
    expect([taken.status, taken.stderr]).toEqual([
      1,
      expect.stringContaining('Another unit is already called'),
    ]);
    expect((await run('rename', 'service', 'F-1', 'F-3', '--why', 'x')).status).toBe(2);
    expect((await run('rename', 'unit', 'F-1', 'F-3', '--why', ' ')).status).toBe(2);
    expect((await run('rename', 'unit', 'F-9', 'F-3', '--why', 'x')).status).toBe(1);
  });
});

describe('void', () => {
  it('takes a service back, and a correction takes it up again', async () => {
    const fact = await factOf('F-1', 'service');
    expect((await run('void', fact, '--why', 'it was another fork')).status).toBe(0);
    expect(await hoursOf('F-1')).toBe(3);
    const last = (await story('F-1')).find((line) => line.isVoid)!;
    expect((await run('void', String(last.fact), '--why', 'again')).status).toBe(1);
    expect((await correct(String(last.fact), { note: 'it was this one' })).status).toBe(0);
    expect(await hoursOf('F-1')).toBe(2);
  });

  it('refuses what others stand on, naming it', async () => {
    const refused = await run('void', await factOf('F-1', 'unit'), '--why', 'x');
    expect([refused.status, refused.stderr]).toEqual([
      1,
      expect.stringContaining(`a fitting (fact ${await factOf('F-1', 'fitting')})`),
    ]);
  });
});

describe('story', () => {
  it('tells people what was, what is, who said so and why', async () => {
    await correct(await factOf('F-1', 'service'), { findings: { foamRings: 'dark' } });
    const { status, stdout } = await run('story', 'F-1');
    expect(status).toBe(0);
    expect(stdout).toMatch(/2025-03-01 .*foam rings: dark/);
    expect(stdout).toMatch(/was: .*foam rings: honey.*corrected it: the bill says so/);
    expect(stdout).toContain(await factOf('F-1', 'service'));
  });

  it('tells of a fitting that was moved to another unit in both books', async () => {
    await correct(await factOf('F-2', 'fitting'), { to: '2025-02-01' });
    await correct(await factOf('F-1', 'fitting'), { unit: 'F-2', from: '2025-02-01' });
    expect((await story('F-1')).filter((line) => line.kind === 'fitting')).toHaveLength(2);
    expect((await story('F-2')).filter((line) => line.kind === 'fitting')).toHaveLength(4);
    expect(await hoursOf('F-2')).toBe(3);
  });

  it('knows no unit that is not there', async () => {
    expect((await run('story', 'F-9')).status).toBe(1);
  });
});
