/** CSV files: one kind each, and every fault with its row and column. */
import { existsSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { readCsvImport, readJsonImport } from '../../src/cli/readImport.js';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

let folder = '';
beforeEach(() => {
  folder = scratchFolder();
});
const fileOf = (text: string | Uint8Array, name = 'rows.csv'): string => {
  const file = join(folder, name);
  writeFileSync(file, text);
  return file;
};
const faults = async (kind: string, text: string): Promise<string[]> => {
  const read = await readCsvImport(kind, fileOf(text));
  return 'problems' in read ? read.problems.map(({ source, message }) => `${source}: ${message}`) : [];
};
const rows = async (kind: 'units' | 'services' | 'intervals', text: string) => {
  const read = await readCsvImport(kind, fileOf(text));
  if ('problems' in read) throw new Error(JSON.stringify(read.problems));
  return read.document[kind];
};

describe('a CSV file', () => {
  it('takes numbers, flags, lists and nested names by their columns; empty cells take the default', async () => {
    const text = [
      '\ufefftag,unitKind,model,factor,history.terrainHours,history.movingHours,history.asOf,spec.oil',
      'F-1,fork,"Sample, with a comma",1.2,12.5,14,2025-01-01,as typed',
      'F-2,fork,,,,,,',
    ].join('\r\n');
    expect(await rows('units', text)).toMatchObject([
      {
        tag: 'F-1',
        model: 'Sample, with a comma',
        factor: 1.2,
        history: { terrainHours: 12.5, movingHours: 14, asOf: '2025-01-01' },
        spec: { oil: 'as typed' },
        at: 'row 2',
      },
      { tag: 'F-2', model: null, factor: 1, history: 'unknown', at: 'row 3' },
    ]);
    const services = 'unit,serviceKind,on,restarts,elsewhere\nF-1,damper,2025-01-01,damper; lower-leg,yes\n';
    expect(await rows('services', services)).toMatchObject([
      { restarts: ['damper', 'lower-leg'], by: 'another-workshop' },
    ]);
  });

  it('is taken with semicolons too, as spreadsheets write it where the comma is decimal', async () => {
    expect(await rows('units', 'tag;unitKind;history\nF-1;fork;new\n')).toMatchObject([
      { tag: 'F-1', history: 'new' },
    ]);
  });

  it('tells every fault with row and column as a spreadsheet counts, empty rows and line breaks in cells too', async () => {
    const text = [
      'unit,serviceKind,on,note',
      'F-1,lower-leg,2025-02-30,fine',
      ',lower-leg,2025-01-01,',
      '',
      'F-1,lower-leg,2025-01-01,"two',
      'lines"',
      'F-1,,tomorrow,',
    ].join('\n');
    expect(await faults('services', text)).toEqual([
      'row 2, column on: must be a day, YYYY-MM-DD',
      'row 3, column unit: is missing',
      'row 6, column serviceKind: is missing',
      'row 6, column on: must be a day, YYYY-MM-DD',
    ]);
  });

  it('tells what is wrong with its columns before its rows', async () => {
    expect(await faults('units', 'tag,colour,tag,unitKind\nF-1,red,F-1,fork\n')).toEqual([
      expect.stringMatching(/^row 1, column colour: There is no such column. There are: tag, unitKind/),
      'row 1, column tag: This column is there twice.',
    ]);
    expect(await faults('units', 'tag,unitKind\nF-1,fork,a,b\nF-2,fork\n')).toEqual([
      'row 2: It has more cells than there are columns: is a comma unquoted?',
    ]);
  });

  it('tells numbers, words and ranges that do not fit', async () => {
    const text = [
      'unitKind,serviceKind,terrainHours,months,movingHoursCeiling',
      'fork,full,many,1.5,x',
      'spring,full,0,300,99999',
    ].join('\n');
    expect(await faults('intervals', text)).toEqual([
      'row 2, column terrainHours: must be a number',
      'row 2, column months: must be a whole number',
      'row 2, column movingHoursCeiling: must be hours, null or "default"',
      'row 3, column unitKind: must be one of: fork, air-shock, coil-shock',
      'row 3, column terrainHours: must be more than 0',
      'row 3, column months: must be at most 240',
      'row 3, column movingHoursCeiling: must be at most 10000',
    ]);
  });

  it('of another encoding is refused, so that no name is broken without a word', async () => {
    const latin = Buffer.from('id,name\nr1,José da Oficina\n', 'latin1');
    const read = await readCsvImport('riders', fileOf(latin));
    expect(read).toMatchObject({
      problems: [{ code: 'not-utf8', message: expect.stringMatching(/not UTF-8; save it as CSV UTF-8/) }],
    });
    const json = await readJsonImport(fileOf(Buffer.from('{"riders": "é"}', 'latin1'), 'a.json'));
    expect(json).toMatchObject({ problems: [{ code: 'not-utf8' }] });
  });

  it('may end with columns without a name, as spreadsheets leave them, unless there is something in them', async () => {
    expect(await rows('units', 'tag,unitKind,,\nF-1,fork,,\nF-2,fork,,\n')).toMatchObject([
      { tag: 'F-1' },
      { tag: 'F-2' },
    ]);
    expect(await faults('units', 'tag,unitKind,,\nF-1,fork,lost,\n')).toEqual([
      'row 2: It has more cells than there are columns: is a comma unquoted?',
    ]);
  });

  it('is told nested columns by their whole names, and the languages that there are', async () => {
    const [units] = await faults('units', 'tag,colour\n');
    expect(units).toMatch(/history, history\.terrainHours, history\.movingHours, history\.asOf, .*spec\.…/);
    const [intervals] = await faults('intervals', 'colour\n');
    expect(intervals).toMatch(/serviceKind, scope\.fleet, scope\.model, scope\.unit, terrainHours/);
    const [services] = await faults('services', 'colour\n');
    expect(services).toMatch(/findings\.…, note, technician/);
    expect(await faults('riders', 'id,name,language\nr1,Rider One,xx\n')).toEqual([
      'row 2, column language: must be one of: en, pt',
    ]);
  });

  it('of no kind, or broken, is refused', async () => {
    expect(await faults('gadgets', 'a\n')).toEqual([
      expect.stringMatching(/no kind "gadgets".*fleets, riders/),
    ]);
    expect(await faults('units', 'tag,unitKind\n"F-1,fork\n')).toEqual([
      expect.stringMatching(/This is no CSV file/),
    ]);
  });
});

describe('a JSON file', () => {
  it('that is a CSV file is told to be named with its kind', async () => {
    const messageOf = async (name: string): Promise<unknown> => {
      const read = await readJsonImport(fileOf('id,name\n', name));
      return 'problems' in read ? read.problems[0]!.message : null;
    };
    expect(await messageOf('riders.csv')).toBe(
      'For a CSV file say what is in it first: stanchion import riders riders.csv',
    );
    expect(await messageOf('May.CSV')).toBe(
      'For a CSV file say what is in it first: stanchion import KIND May.CSV',
    );
  });

  it('that is none, or holds something else, is refused', async () => {
    const broken = await readJsonImport(fileOf('{"workshop": ', 'a.json'));
    expect(broken).toMatchObject({ problems: [{ code: 'not-json' }] });
    const large = fileOf('', 'c.json');
    // Sparse: it takes no room on the disk.
    truncateSync(large, 500_000_001);
    expect(await readJsonImport(large)).toMatchObject({ problems: [{ code: 'too-large' }] });
    const list = await readJsonImport(fileOf('[]', 'b.json'));
    expect(list).toMatchObject({ problems: [{ message: 'must be an object with names' }] });
  });
});

describe('the command', () => {
  it('makes no data folder for a table, and says what comes before it', async () => {
    const data = join(folder, 'data');
    const file = fileOf('id,name\nr1,Rider One\n');
    const run = (...args: string[]) => runHere([...args, '--data', data]);
    const before = await run('import', 'riders', file);
    expect([before.status, before.stderr]).toEqual([1, expect.stringMatching(/stanchion setup/)]);
    expect(existsSync(data)).toBe(false);
    vi.stubEnv('STANCHION_PASSWORD', 'quiet-workbench-7');
    await run('setup');
    vi.unstubAllEnvs();
    const after = await run('import', 'riders', file);
    expect([after.status, after.stderr]).toEqual([1, expect.stringMatching(/Give it its name on the page/)]);
  });

  it('tells conflicts of CSV rows by row and column, and keeps none of them', async () => {
    const data = join(folder, 'data');
    const run = (...args: string[]) => runHere([...args, '--data', data, '--now', '2025-06-18T12:00:00Z']);
    const workshop = { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['mon'] };
    const units = [{ tag: 'F-1', unitKind: 'fork', history: 'new' }];
    const bikes = [{ id: 'b1', name: 'Bike one' }];
    expect((await run('import', fileOf(JSON.stringify({ workshop, units, bikes }), 'a.json'))).status).toBe(
      0,
    );
    const text =
      'unit,bike,from,to\nF-1,b1,2025-01-01,2025-02-01\nF-2,b1,2025-01-01,\nF-1,b2,2025-03-01,\nF-1,b1,2025-01-15,\n';
    const { status, rows: said, stderr } = await run('import', 'fittings', fileOf(text), '--json');
    expect(status).toBe(1);
    expect(said).toMatchObject([
      {
        did: 'nothing',
        problems: [
          { code: 'unknown-id', source: 'row 3, column unit', message: 'There is no unit "F-2".' },
          { code: 'unknown-id', source: 'row 4, column bike' },
          {
            code: 'refused',
            source: 'row 5',
            message: expect.stringMatching(/^F-1 is on bike b1 from 2025-01-01/),
          },
        ],
      },
    ]);
    expect(stderr).toContain('Nothing was imported:');
    const good = fileOf('unit,bike,from,to\nF-1,b1,2025-01-01,2025-02-01\n');
    expect((await run('import', 'fittings', good, '--json')).rows).toMatchObject([
      { ids: [expect.any(String)] },
    ]);
    expect((await run('import', 'fittings', good, '--json')).rows).toMatchObject([{ ids: [] }]);
  });
});
