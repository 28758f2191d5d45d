/** What an import says it did. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { importedLines } from '../../src/cli/importText.js';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const workshop = { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['mon'] };
const TEAM = {
  workshop,
  fleets: [{ id: 't1', name: 'Our team' }],
  bikes: [
    { id: 'tb1', fleet: 't1', name: 'Race bike 1' },
    { id: 'tb2', fleet: 't1', name: 'Race bike 2' },
  ],
  units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'tb1', from: '2025-03-01' }],
  races: [{ id: 'x1', name: 'First race', on: '2025-07-01', bikes: ['tb1'] }],
};

let folder = '';
beforeEach(() => {
  folder = scratchFolder();
});
const take = (document: object | string, ...flags: string[]) => {
  const file = join(folder, 'file.json');
  writeFileSync(file, typeof document === 'string' ? document : JSON.stringify(document, null, 2));
  const data = join(folder, 'data');
  return runHere(['import', file, '--data', data, '--now', '2025-06-18T12:00:00Z', ...flags]);
};

describe('an import says', () => {
  it('what was added, kind by kind and by its ids, and nothing of the same again', async () => {
    expect((await take(TEAM)).stdout.split('\n')[0]).toBe(
      'Added: 1 workshop (w1), 1 fleet (t1), 2 bikes (tb1, tb2), 1 unit (F-1), 1 fitting, 1 race (x1).',
    );
    expect((await take(TEAM)).stdout).toContain('Nothing new in it.');
    expect((await take(TEAM, '--json')).rows).toMatchObject([{ ids: [], added: {}, changed: {} }]);
  });

  it('what was known and is changed, so that nothing is overwritten unseen', async () => {
    await take(TEAM);
    const races = [{ ...TEAM.races[0], on: '2025-07-08' }];
    const bikes = [...TEAM.bikes, { id: 'tb3', fleet: 't1', name: 'Race bike 3' }];
    const riders = [{ id: 'r1', name: 'Rider One', email: 'r1@example.org' }];
    const { stdout } = await take({ races, bikes, riders });
    expect(stdout).toMatch(/^Added: 1 rider \(r1\), 1 bike \(tb3\)\.$/m);
    expect(stdout).toMatch(/^Changed, because the file says something else: 1 race \(x1\)\./m);
    const moved = { riders: [{ ...riders[0], email: 'other@example.org' }], races: TEAM.races };
    expect((await take(moved, '--json')).rows).toMatchObject([
      { did: 'import', ids: [], added: {}, changed: { riders: ['r1'] }, problems: [] },
    ]);
  });

  it('that a bike was added beside one of the same name and owner', async () => {
    await take(TEAM);
    const { stdout } = await take({ bikes: [{ id: 'tb11', fleet: 't1', name: 'Race bike 1' }] });
    expect(stdout).toMatch(
      /Bike tb11 was added beside tb1, which is called "Race bike 1" too\..*stanchion void \w+/,
    );
  });

  it('where something is wrong by id or tag, and in which line where it is no JSON', async () => {
    const bikes = [TEAM.bikes[0], { id: 'tb2', fleet: 't1', name: 'Race bike 2', colour: 'red' }];
    const wrong = await take({ ...TEAM, bikes });
    expect(wrong.stderr).toContain('bikes[1] (tb2): there is no such name: colour');
    const fittings = [{ unit: 'F-9', bike: 'tb1', from: '2025-03-01' }];
    expect((await take({ ...TEAM, fittings })).stderr).toContain(
      'fittings[0].unit (F-9 tb1 2025-03-01): There is no unit "F-9".',
    );
    expect((await take('{\n  "bikes": [\n    {"id": "tb1",}\n  ]\n}')).stderr).toMatch(
      /\(?line 3,? column \d+/,
    );
  });

  it('no more than a dozen names, and the history of an export as a number', () => {
    const units = Array.from({ length: 15 }, (_, i) => `F-${i}`);
    const none = { changed: {}, twins: [] };
    expect(importedLines({ ids: units, added: { units }, ...none })[0]).toMatch(
      /^Added: 15 units \(F-0, .*F-11 and 3 more\)\.$/,
    );
    expect(importedLines({ ids: units, added: {}, ...none })).toEqual([
      'Facts added with their history: 15.',
    ]);
  });
});
