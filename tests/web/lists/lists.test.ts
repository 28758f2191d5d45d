/** What a spreadsheet is given: the whole list as its page has it, read back by a CSV reader of another house (csv-parse, RFC 4180). */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { addService } from '../../../src/flow/facts/enterFacts.js';
import { day } from '../../../src/units.js';
import { teamWorld } from '../teamWorld.js';
import { signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, NOW, webWorld } from '../webWorld.js';

type Row = Record<string, string>;

async function rowsOf(visitor: Visitor, path: string): Promise<Row[]> {
  const response = await visitor.get(path);
  expect(response.headers.get('content-type')).toBe('text/csv; charset=utf-8');
  expect(response.headers.get('content-disposition')).toMatch(/^attachment; filename="[a-z]+-[\d-]+\.csv"$/);
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(await response.arrayBuffer());
  expect(text.startsWith('\ufeff')).toBe(true);
  return parse(text, { columns: true, bom: true });
}

describe('a list as a file', () => {
  it('holds what is due with the filter of its page', async () => {
    const { app } = await webWorld();
    const owner = await signedIn(app);
    const all = await rowsOf(owner, '/lists/due.csv');
    expect(all.length).toBeGreaterThan(8);
    const fork = all.find(({ unit, serviceKind }) => unit === 'F-0001' && serviceKind === 'lower-leg');
    expect(fork).toMatchObject({ riderName: 'Pia Lanternby', state: 'coming-up', terrainHoursSince: '45' });
    const some = await rowsOf(owner, '/lists/due.csv?state=coming-up&find=lanternby');
    expect(some.map(({ unit, state }) => [unit, state])).toEqual([['F-0001', 'coming-up']]);
    expect(await owner.text('/due?state=coming-up&find=lanternby')).toContain(
      'href="/lists/due.csv?state=coming-up&amp;find=lanternby"',
    );
  });

  it('holds units and riders, and no formula that a spreadsheet would run', async () => {
    const rider = { ...DOCUMENT.riders[0]!, name: '=HYPERLINK("http://x","y")', phone: '+351 912' };
    const { app } = await webWorld({ document: { ...DOCUMENT, riders: [rider, DOCUMENT.riders[1]] } });
    const owner = await signedIn(app);
    const units = await rowsOf(owner, '/lists/units.csv');
    expect(units.map(({ tag, bikeName }) => [tag, bikeName])).toContainEqual(['F-0001', 'Green trail bike']);
    expect(units).toHaveLength(DOCUMENT.units.length);
    const riders = await rowsOf(owner, '/lists/riders.csv');
    expect(riders).toHaveLength(2);
    for (const row of [...riders, ...(await rowsOf(owner, '/lists/due.csv'))])
      for (const value of Object.values(row)) expect(value).not.toMatch(/^[=+@]/);
    expect(riders.map(({ id, addressConfirmed }) => [id, addressConfirmed]).sort()).toEqual([
      ['r1', 'true'],
      ['r2', 'false'],
    ]);
  });

  it('holds the services of a year, and a rider’s history from that rider’s time alone', async () => {
    const { app, store } = await webWorld();
    const owner = await signedIn(app);
    await store.write(async (tx) => {
      const unitId = (await tx.handles.find('unit', 'F-0001'))!;
      for (const on of ['2026-02-03', '2026-06-01'])
        await addService(
          tx,
          {
            unitId,
            serviceKind: 'lower-leg',
            on: day(on),
            by: 'here',
            findings: { foamRings: 'honey' },
            note: 'a, "b"',
          },
          { by: 'owner', at: NOW },
        );
    });
    const year = await rowsOf(owner, '/lists/services.csv?year=2026');
    expect(year.map(({ on, unit, findings, note }) => [on, unit, findings, note])).toEqual([
      ['2026-02-03', 'F-0001', 'foamRings: honey', 'a, "b"'],
      ['2026-06-01', 'F-0001', 'foamRings: honey', 'a, "b"'],
    ]);
    expect(await rowsOf(owner, '/lists/services.csv?year=2025')).toEqual([]);
    const history = await rowsOf(owner, '/riders/r1/history');
    expect(history.filter(({ what }) => what === 'service')).toHaveLength(2);
    const hours = history.filter(({ what }) => what === 'hours by hand');
    expect(hours.reduce((sum, { movingHours }) => sum + Number(movingHours), 0)).toBe(45);
    expect(history.map(({ on }) => on)).toEqual([...history.map(({ on }) => on)].sort());
    expect((await rowsOf(owner, '/riders/r2/history')).some(({ unit }) => unit === 'F-0001')).toBe(false);
  });

  it('is there for mails and bookings too, and for nothing else', async () => {
    const { app } = await webWorld();
    const owner = await signedIn(app);
    for (const name of ['mails', 'bookings'])
      expect((await owner.get(`/lists/${name}.csv`)).status).toBe(200);
    for (const name of ['due', 'toString.csv', '__proto__.csv', 'contacts.csv'])
      expect((await owner.get(`/lists/${name}`)).status, name).toBe(404);
  });

  it('of a mechanic holds the own fleet’s units alone, and no list of riders, bookings or mails', async () => {
    const world = await teamWorld();
    const oak = await world.as('oak');
    const fleet = await oak.text('/fleets/t1');
    for (const list of ['due', 'units', 'services']) {
      expect(fleet).toContain(`href="/lists/${list}.csv`);
      const all = await rowsOf(await world.as('tech'), `/lists/${list}.csv`);
      const own = await rowsOf(oak, `/lists/${list}.csv`);
      const tags = new Set(own.map((row) => row.tag ?? row.unit));
      for (const tag of tags) expect(tag).toMatch(/^[A-Z]-05\d\d$/);
      expect(own.length, list).toBeLessThan(all.length + (list === 'services' ? 1 : 0));
      if (list !== 'services') expect(tags.size).toBeGreaterThan(2);
    }
    for (const list of ['riders', 'bookings', 'mails'])
      expect((await oak.get(`/lists/${list}.csv`)).status, list).toBe(404);
  });
});
