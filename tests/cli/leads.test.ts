import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import ICAL from 'ical.js';
import { expect, it } from 'vitest';
import { scratchFolder, startProgram } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

/** A Wednesday, after the digest's hour. */
const NOW = '2026-06-10T09:00:00Z';

/** Invented; a bike and a phone that a spreadsheet would take for formulas. */
const SETUP = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'Europe/Lisbon',
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
    remindersFrom: '2020-01-01',
    placesAWeek: 1,
    benchMinutesADay: 300,
    closedDays: ['2026-06-11'],
  },
  riders: ['r1', 'r2'].map((id) => ({
    id,
    name: `Rider ${id}`,
    email: `${id}@example.org`,
    phone: '+000 555 0100',
    addressConfirmed: true,
  })),
  bikes: [
    { id: 'b1', rider: 'r1', name: '=1+1', type: 'trail' },
    { id: 'b2', rider: 'r2', name: '@Brine, "the" bike', type: 'trail' },
  ],
  units: ['F-1', 'F-2'].map((tag) => ({
    tag,
    unitKind: 'fork',
    history: { terrainHours: 52, movingHours: 52, asOf: '2026-06-01' },
  })),
  fittings: [
    { unit: 'F-1', bike: 'b1', from: '2026-01-01' },
    { unit: 'F-2', bike: 'b2', from: '2026-01-01' },
  ],
};

it('lists leads, books one on the last place of a week, writes them for a spreadsheet and serves them as a calendar', async () => {
  const data = scratchFolder();
  const file = join(data, 'setup.json');
  writeFileSync(file, JSON.stringify(SETUP));
  const at = ['--data', data, '--now', NOW];
  expect((await runHere(['import', file, ...at])).status).toBe(0);
  const leads = async () => (await runHere(['leads', '--json', ...at])).rows;
  const [first, second] = await leads();
  expect([first, second]).toMatchObject([
    { state: 'open', unit: 'F-1', serviceKind: 'lower-leg', rider: 'r1', benchMinutes: 60 },
    { state: 'open', unit: 'F-2', serviceKind: 'lower-leg', rider: 'r2', benchMinutes: 60 },
  ]);

  const closed = await runHere(['lead', String(first!.id), '--book', '2026-06-11', ...at]);
  expect(closed.status).toBe(1);
  expect(closed.stderr).toContain('There is no place on 2026-06-11: the day is closed or full.');
  const booked = await runHere(['lead', String(first!.id), '--book', '2026-06-12', '--json', ...at]);
  expect(booked.rows).toEqual([{ did: 'booked on 2026-06-12', ids: [first!.id], problems: [] }]);
  const full = await runHere(['lead', String(second!.id), '--book', '2026-06-10', ...at]);
  expect(full.stderr).toContain('Free days: 2026-06-15, 2026-06-16, 2026-06-17.');
  expect((await runHere(['lead', String(second!.id), ...at])).status).toBe(2);
  expect((await runHere(['lead', 'nothing', '--done', ...at])).stderr).toContain(
    'There is no booking nothing.',
  );
  expect((await runHere(['leads', ...at])).stdout).toMatch(/booked +2026-06-12 +F-1 +lower-leg service/);

  const csv = join(data, 'leads.csv');
  expect((await runHere(['leads', '--csv', csv, ...at])).status).toBe(0);
  const rows: Record<string, string>[] = parse(readFileSync(csv), { columns: true });
  expect(rows.map((row) => [row.unit, row.state, row.bike, row.phone])).toEqual([
    ['F-1', 'booked', "'=1+1", "'+000 555 0100"],
    ['F-2', 'open', `'@Brine, "the" bike`, "'+000 555 0100"],
  ]);
  for (const cell of rows.flatMap((row) => Object.values(row))) expect(cell).not.toMatch(/^[=+\-@\t\r]/);

  const { stop, firstLine } = await startProgram(['serve', '--json', '--port', '0', ...at]);
  const { url } = JSON.parse(firstLine) as { url: string };
  const path = new URL(String((await runHere(['leads', '--calendar', '--json', ...at])).rows[0]!.calendar))
    .pathname;
  const text = await (await fetch(url + path)).text();
  const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent');
  expect(events.map((event) => String(event.getFirstPropertyValue('dtstart')))).toEqual(['2026-06-12']);
  const renewed = (await runHere(['leads', '--new-calendar', '--json', ...at])).rows[0]!.calendar;
  expect((await fetch(url + path)).status).toBe(404);
  expect((await fetch(url + new URL(String(renewed)).pathname)).status).toBe(200);
  expect(await stop()).toBe(0);
});
