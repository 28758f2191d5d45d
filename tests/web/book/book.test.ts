import { expect, test } from 'vitest';
import { listDue } from '../../../src/flow/due/listDue.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, NOW, type WebWorld, webWorld } from '../webWorld.js';

const PAGE = '/units/F-0001';
const document = {
  ...DOCUMENT,
  workshop: { ...DOCUMENT.workshop, address: '1 Nowhere Lane\n00000 Notatown' },
  services: [
    {
      unit: 'F-0001',
      serviceKind: 'lower-leg',
      on: '2026-05-01',
      findings: { foamRings: 'honey' },
      note: 'Clean',
    },
  ],
};

async function opened(of: unknown = document): Promise<WebWorld & { visitor: Visitor }> {
  const world = await webWorld({ document: of });
  return { ...world, visitor: await signedIn(world.app) };
}

const hoursSince = async ({ store }: WebWorld): Promise<number> =>
  (await store.read((tx) => listDue(tx, NOW))).find(
    (row) => row.unit === 'F-0001' && row.serviceKind === 'lower-leg',
  )!.terrainHoursSince;

/** Where the page puts right the line that holds a text. */
async function lineOf(visitor: Visitor, text: string): Promise<string> {
  const lines = (await visitor.text(PAGE)).split('<dt>').filter((line) => line.includes('/lines/'));
  const line = lines.find((one) => plain(one).includes(text));
  const path = /href="(\/units\/F-0001\/lines\/[^"]+)"/.exec(line ?? '')?.[1];
  if (path === undefined) throw new Error(`no line holds ${text}`);
  return path;
}

const book = async (visitor: Visitor): Promise<string> => plain(await visitor.text(`${PAGE}/book`));

test('the book holds all that happened, the hours of each service period, and when it was printed', async () => {
  const { visitor } = await opened();
  const markup = await visitor.text(`${PAGE}/book`);
  const text = plain(markup);
  expect(markup).toContain('<body class="on-book">');
  expect(text).toContain('Tumbledown Suspension Bench 1 Nowhere Lane 00000 Notatown Service book: F-0001');
  expect(text).toContain(
    '1 January 2026 on Green trail bike from 1 January 2026 by import, 10 June 2026, 10:00',
  );
  expect(text).toContain(
    '1 May 2026 lower-leg service restarted: lower-leg service; Foam rings: honey; Clean by import',
  );
  // Three hours a week: nine Sundays from 1 March to 26 April, six from 3 May to 7 June, all entered by hand.
  expect(text).toMatch(
    /lower-leg service 1 January 2026 1 May 2026 27\.0.h 27\.0.h 27\.0.h moving entered by hand lower-leg service 1 May 2026 still running 18\.0.h 18\.0.h 18\.0.h moving entered by hand/,
  );
  expect(text).toMatch(/damper service 1 January 2026 still running 45\.0.h 45\.0.h/);
  expect(text).toContain('Terrain hours (estimate)');
  expect(text).toContain('That severity is an estimate');
  expect(text).toContain('Printed 10 June 2026 by owner');
});

test('what nobody knew is not made up: hours since it came, and hours that came with it', async () => {
  const history = { terrainHours: 12.5, movingHours: 14, asOf: '2026-05-10' };
  const { visitor } = await opened({
    ...DOCUMENT,
    units: DOCUMENT.units.map((unit) => (unit.tag === 'F-0001' ? { ...unit, history } : unit)),
  });
  // Sundays from 10 May to 7 June: five of three hours.
  expect(await book(visitor)).toMatch(
    /lower-leg service 10 May 2026 still running 29\.0.h 27\.5.h came with 14\.0.h moving, 12\.5.h terrain 15\.0.h moving entered by hand/,
  );
  const unknown = plain(await visitor.text('/units/F-0003/book'));
  expect(unknown).toMatch(
    /lower-leg service unknown: before it came still running 0\.0.h 0\.0.h history unknown: hours since it came/,
  );
  expect(plain(await visitor.text('/units/A-0001/book'))).toMatch(
    /full service never fitted still running 0\.0.h/,
  );
});

test('another day moves the hours, and the book keeps what stood there, with who, when and why', async () => {
  const world = await opened();
  const { visitor } = world;
  expect(await hoursSince(world)).toBe(18);
  const path = await lineOf(visitor, 'lower-leg service');
  const response = await visitor.send(path, `${path}/day`, { on: '2026-05-20', why: 'Wrong day <b>' });
  expect(response.headers.get('location')).toBe(`${PAGE}?done=corrected`);
  expect(await hoursSince(world)).toBe(9);
  const text = await book(visitor);
  expect(text).toContain('20 May 2026 lower-leg service');
  expect(text).toMatch(
    /was: 1 May 2026, lower-leg service .* corrected by owner, 10 June 2026, 10:00: Wrong day <b>/,
  );
  expect(plain(await visitor.text(`${PAGE}?done=corrected`))).toContain('The day is corrected');
  // The old line is there to read, and no more to change.
  const gone = plain(await visitor.text(path));
  expect(gone).toContain('This line has been corrected.');
  expect(gone).not.toContain('Save the day');
});

test('a line is taken back, and two who do so at once see each other', async () => {
  const world = await opened();
  const { visitor } = world;
  const path = await lineOf(visitor, 'lower-leg service');
  const token = await visitor.tokenOn(path);
  const first = await visitor.post(`${path}/void`, { token, voidWhy: 'Another fork' });
  expect(first.headers.get('location')).toBe(`${PAGE}?done=void`);
  expect(await hoursSince(world)).toBe(45);
  const second = await visitor.post(`${path}/void`, { token, voidWhy: 'Mine' });
  expect(second.status).toBe(409);
  expect(plain(await second.text())).toContain(
    'owner has taken this back (10 June, 10:00). Your change was not saved.',
  );
  expect(await book(visitor)).toMatch(
    /lower-leg service .* taken back by owner, 10 June 2026, 10:00: Another fork/,
  );
});

test('a fitting moves to another day and ends, and a mark is taken back', async () => {
  const world = await opened({ ...DOCUMENT });
  const { visitor } = world;
  const path = await lineOf(visitor, 'put on Green trail bike');
  const days = { from: '2026-05-01', to: '2026-06-01', why: 'From the invoice' };
  const asked = await visitor.send(path, `${path}/day`, days);
  expect(plain(await asked.text())).toMatch(
    /these rides would count for other units: .*: from F-0001 to no unit/,
  );
  expect(await hoursSince(world)).toBe(45);
  await visitor.send(path, `${path}/day`, { ...days, moved: 'yes' });
  // Sundays of May: 3, 10, 17, 24 and 31.
  expect(await hoursSince(world)).toBe(15);
  expect(await book(visitor)).toContain('on Green trail bike from 1 May 2026 to 1 June 2026');
  await visitor.send(PAGE, `${PAGE}/mark`, { why: 'Creaks' });
  const mark = await lineOf(visitor, 'stop riding:');
  expect(plain(await visitor.text(mark))).not.toContain('Another day');
  await visitor.send(mark, `${mark}/void`, { voidWhy: 'It was the saddle' });
  expect(plain(await visitor.text(PAGE))).not.toContain('Stop riding, have it checked first');
  expect(await book(visitor)).toMatch(/stop riding: Creaks taken back by owner, .*: It was the saddle/);
});

test.each([
  ['the same day', 'day', { on: '2026-05-01', why: 'x' }, 'That is the day already entered.'],
  ['a day to come', 'day', { on: '2026-07-01', why: 'x' }, 'Choose a day, not later than today.'],
  ['no reason', 'day', { on: '2026-05-02', why: ' ' }, 'Say why'],
  ['a day before it came', 'day', { on: '2025-05-02', why: 'x' }, 'cannot have been serviced'],
  ['a taking back without a reason', 'void', { voidWhy: '' }, 'Say why'],
])(
  '%s is refused in plain words, and nothing is saved',
  async (_, act, fields: Record<string, string>, message) => {
    const { visitor, store } = await opened();
    const path = await lineOf(visitor, 'lower-leg service');
    const before = await store.read((tx) => tx.facts.count());
    const response = await visitor.send(path, `${path}/${act}`, fields);
    expect([409, 422]).toContain(response.status);
    const text = await response.text();
    expect(plain(text)).toContain(message);
    expect(text).toContain('role="alert"');
    expect(await store.read((tx) => tx.facts.count())).toBe(before);
  },
);

test('a fitting does not end before it begins', async () => {
  const { visitor } = await opened();
  const path = await lineOf(visitor, 'put on Green trail bike');
  const response = await visitor.send(path, `${path}/day`, {
    from: '2026-05-02',
    to: '2026-05-01',
    why: 'x',
  });
  expect(response.status).toBe(422);
  expect(plain(await response.text())).toContain('It cannot come off before it goes on.');
});

test('a line of another unit, and what is no line, are not found', async () => {
  const { visitor, store } = await opened();
  const line = await lineOf(visitor, 'lower-leg service');
  const factId = line.split('/').at(-1)!;
  expect((await visitor.get(`/units/F-0002/lines/${factId}`)).status).toBe(404);
  const token = await visitor.tokenOn(line);
  expect((await visitor.post(`/units/F-0002/lines/${factId}/void`, { token, voidWhy: 'x' })).status).toBe(
    404,
  );
  const [workshop] = await store.read((tx) => tx.facts.list('workshop'));
  expect((await visitor.get(`${PAGE}/lines/${workshop!.id}`)).status).toBe(404);
  expect(await store.read((tx) => tx.facts.list('service'))).toHaveLength(1);
});

test('the book and the correcting speak Portuguese', async () => {
  const { visitor } = await opened({ ...document, workshop: { ...document.workshop, language: 'pt' } });
  expect(await book(visitor)).toContain('Livro de revisões: F-0001');
  const path = await lineOf(visitor, 'revisão das bainhas');
  expect(plain(await visitor.text(path))).toContain('Nada se apaga');
  await visitor.send(path, `${path}/void`, { voidWhy: 'engano' });
  expect(await book(visitor)).toMatch(/retirado por owner, .*: engano/);
});
