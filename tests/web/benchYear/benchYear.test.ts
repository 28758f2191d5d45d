/** The year of the bench: what it says of many, of few, and of those that it sets apart. */
import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, TODAY, webWorld } from '../webWorld.js';
import { ago, fork, HELPED, yearDocument } from './yearWorld.js';

const pageOf = async (document: object) => {
  const { app } = await webWorld({ document: document as typeof DOCUMENT });
  const visitor = await signedIn(app);
  return { visitor, text: await visitor.text('/findings/year') };
};

it('says that dark rings and late units became rarer, with the range, and draws all three', async () => {
  const { visitor, text } = await pageOf(yearDocument(HELPED));
  const said = plain(text);
  expect(said).toContain('Fewer units had dark foam rings: 17 % since then, 75 % before.');
  expect(said).toContain('Fewer units came in over their interval: 17 % since then, 75 % before.');
  expect(said).toMatch(/80 ?% range of the change: -\d+ to -\d+ points\./);
  expect(said).toContain('Two times are compared, and that proves no cause');
  expect([...text.matchAll(/<figure class="plot"><figcaption>([^<]+)</g)].map(([, title]) => title)).toEqual([
    'Before and since reminders began',
    'How much of its interval each unit had used',
    'Units serviced, month by month',
  ]);
  expect(plain(await visitor.text('/findings'))).toContain('A year of the bench: do reminders work?');
});

it('is the same as a file', async () => {
  const { visitor } = await pageOf(yearDocument(HELPED));
  const file = await (await visitor.get('/lists/bench.csv')).text();
  const rows = parse(file, { columns: true, bom: true }) as Record<string, string>[];
  expect(rows).toHaveLength(48);
  expect(rows[0]).toMatchObject({
    ...{ on: ago(600), unit: 'F-800', clock: 'lower-leg', terrainHours: '70', limit: 'terrain-hours' },
    ...{ limitHours: '50', used: '1.400', ringsDark: 'true', group: 'before' },
  });
  expect(rows.filter(({ group }) => group === 'since')).toHaveLength(24);
});

it('sets apart what was up already, and what nobody knew the last service of', async () => {
  const late = fork(50, [{ on: ago(380), hours: 55, rings: 'dark' }]);
  // Ridden before reminders began, brought after.
  const early = {
    ...late,
    hours: late.hours.map((one, day) => ({ ...one, on: addDays(TODAY, -420 - day) })),
  };
  const unknown = fork(51, [{ on: ago(100), hours: 30, rings: 'dark' }], 'unknown');
  const { visitor } = await pageOf(yearDocument([early, unknown]));
  const rows = parse(await (await visitor.get('/lists/bench.csv')).text(), {
    columns: true,
    bom: true,
  }) as Record<string, string>[];
  expect(rows.map(({ unit, group }) => [unit, group])).toEqual([
    ['F-850', 'up-already'],
    ['F-851', 'not-known'],
  ]);
});

it('says how many are missing, and that those from before will hardly come', async () => {
  const { text } = await pageOf(yearDocument(HELPED.slice(0, 5)));
  const said = plain(text);
  expect(said).toContain(
    'Dark foam rings: too few were looked at to compare. Still missing: 15 from before, 15',
  );
  expect(said).toContain('can only come from older services that are logged late');
  expect(said).not.toContain('Fewer units');
  expect(text).not.toContain('Before and since reminders began</figcaption>');
});

it('compares nothing before reminders begin, nor where nothing was done', async () => {
  const quiet = await pageOf(yearDocument(HELPED, null));
  expect(plain(quiet.text)).toContain('Reminders have not begun, or are paused.');
  expect(plain(quiet.text)).not.toContain('Since reminders began');
  expect(plain((await pageOf(DOCUMENT)).text)).toContain('No service is logged here yet.');
});

it('speaks Portuguese too', async () => {
  const document = yearDocument(HELPED);
  const { text } = await pageOf({ ...document, workshop: { ...document.workshop, language: 'pt' } });
  const said = plain(text);
  expect(said).toContain('Menos unidades tinham anéis de espuma escuros');
  expect(said).toContain('Um ano da bancada');
});
