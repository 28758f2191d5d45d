import { expect, it } from 'vitest';
import { readDocument } from '../../src/cli/importSchema.js';
import { importLedger } from '../../src/flow/carry/importLedger.js';
import { take } from './takeTrack.js';
import { teamDocument, teamWorld } from './teamWorld.js';
import { plain, type Visitor } from './visitor.js';
import { TODAY } from './webWorld.js';

const rowsOf = (text: string): string[] =>
  [...text.matchAll(/<tr role="row">[\s\S]*?<\/tr>/g)].map(([row]) => plain(row));

const SWAP = '/fleets/t1/swap';
const rowOf = async (visitor: Visitor, tag: string): Promise<string | undefined> =>
  rowsOf(await visitor.text('/fleets/t1')).find((row) => row.startsWith(tag));

it('a fleet shows the hours left of each unit, what is marked and tightest on top, the nearest service first', async () => {
  const { as } = await teamWorld();
  const oak = await as('oak');
  await oak.send('/units/F-0503', '/units/F-0503/mark', { why: 'bent crown' });
  const text = await oak.text('/fleets/t1');
  const rows = rowsOf(text).filter((row) => row.startsWith('F-'));
  expect(rows.map((row) => row.slice(0, 6))).toEqual(['F-0503', 'F-0501', 'F-0502', 'F-0509']);
  // 12.5 hours on typical ground of the team's 20.
  expect(rows[1]).toContain('lower-leg service: 7.5 h');
  expect(rows[0]).toContain('Stop riding, have it checked first: bent crown');
  expect(rows[3]).toContain('spare');
  expect(plain(text)).not.toMatch(/F-0601|F-0001|Quillmarsh|Lanternby/);
});

it('a bike that leaves its fleet keeps what its rides weighed there, and its fork the fleet’s interval until it rides on', async () => {
  const { store, as } = await teamWorld();
  const owner = await as('owner');
  const page = await owner.text('/bikes/x1');
  const fact = /action="[^"]*\/change"[\s\S]*?name="fact" value="([^"]+)"/.exec(page)![1]!;
  const hours = async (): Promise<readonly number[]> => {
    const unitId = (await store.read((tx) => tx.handles.find('unit', 'F-0501')))!;
    const rows = await store.read((tx) => tx.standings.listOf(unitId));
    return rows.map(({ terrainMs }) => terrainMs);
  };
  const before = await hours();
  const change = { fact, name: 'Race bike x1', type: 'gravity', owner: '', ownerSeen: '', fleet: '' };
  const response = await owner.send('/bikes/x1', '/bikes/x1/change', { ...change, fleetFrom: TODAY });
  expect(response.status).toBe(303);
  expect(await hours()).toEqual(before);
  expect(plain(await owner.text('/bikes/x1'))).toContain('Before: Team Bramblewick, until');
  const [one, other] = [await owner.text('/fleets/t1'), plain(await owner.text('/units/F-0501'))];
  expect(rowsOf(one).some((row) => row.startsWith('F-0501'))).toBe(false);
  expect(other).not.toContain('of 20 h');
  // Its box: what came off while the bike was the team's is the team's.
  expect(rowsOf(one).some((row) => row.startsWith('F-0509'))).toBe(true);
});

it('a swap moves two units in one action, and the fleet says so', async () => {
  const { store, as } = await teamWorld();
  const oak = await as('oak');
  const before = await store.read((tx) => tx.facts.count());
  const response = await oak.send(SWAP, SWAP, { off: 'F-0501', on: 'F-0509', when: 'now' });
  expect(response.status).toBe(303);
  expect(plain(await oak.text(response.headers.get('location')!))).toContain(
    'F-0501 and F-0509 are swapped.',
  );
  expect(await rowOf(oak, 'F-0509')).toContain('Race bike x1');
  expect(await rowOf(oak, 'F-0501')).toContain('spare');
  // One fitting ended and one begun.
  expect(await store.read((tx) => tx.facts.count())).toBe(before + 2);
  expect(plain(await oak.text('/units/F-0509'))).toContain('put on Race bike x1, in place of F-0501');
  expect(plain(await oak.text('/units/F-0501'))).toContain('taken off Race bike x1, F-0509 on in its place');
});

it('before a swap stand marks, hours left and the last service; spares first, and 2 before 10', async () => {
  const { as } = await teamWorld();
  const oak = await as('oak');
  await oak.send('/units/F-0509', '/units/F-0509/mark', { why: 'creaks' });
  const text = plain(await oak.text(`${SWAP}?off=F-0501`));
  expect(text).toContain('F-0501 comes off Race bike x1');
  const [spare, bike] = [text.search(/spare ?: F-0509 \(fork\)/), text.search(/Race bike x2 ?: F-0502/)];
  expect(spare).toBeGreaterThan(0);
  expect(bike).toBeGreaterThan(spare);
  expect(text).toMatch(/F-0509 \(fork\) Stop riding, have it checked first: creaks/);
  expect(text).toMatch(/F-0502 \(fork\) lower-leg service: [\d.]+ h.{0,40}no service logged/);
});

it('a swap in the evening of today is seen at once, under that day on page and book', async () => {
  const { as } = await teamWorld();
  const oak = await as('oak');
  await oak.send(SWAP, SWAP, { off: 'F-0501', on: 'F-0509', day: TODAY, when: 'after' });
  expect(await rowOf(oak, 'F-0509')).toContain('Race bike x1');
  expect(await rowOf(oak, 'F-0501')).toContain('spare');
  expect(plain(await oak.text('/units/F-0509'))).toMatch(
    /10 June put on Race bike x1, after the last ride of that day/,
  );
  const owner = await as('owner');
  expect(plain(await owner.text('/units/F-0509/book'))).toMatch(
    /10 June 2026 on Race bike x1 from 10 June 2026 \(after the last ride\)/,
  );
});

it('the last swap is taken back by one press, once', async () => {
  const { store, as } = await teamWorld();
  const oak = await as('oak');
  const before = rowsOf(await oak.text('/fleets/t1'));
  await oak.send(SWAP, SWAP, { off: 'F-0501', on: 'F-0509', day: '2026-06-10', time: '08:30', when: 'at' });
  const page = await oak.text(SWAP);
  expect(plain(page)).toContain('Last swap: F-0501 off Race bike x1, F-0509 on in its place (oak,');
  const at = /name="at" value="([^"]+)"/.exec(page)![1]!;
  expect(at).toBe('2026-06-10T07:30:00Z');
  const back = { off: 'F-0501', on: 'F-0509', at };
  const response = await oak.send(SWAP, `${SWAP}/back`, back);
  const text = plain(await oak.text(response.headers.get('location')!));
  expect(text).toContain('The swap of F-0501 and F-0509 is taken back');
  expect(text).not.toContain('Last swap');
  expect(rowsOf(await oak.text('/fleets/t1'))).toEqual(before);
  const again = await oak.send(SWAP, `${SWAP}/back`, back);
  expect([again.status, plain(await again.text())]).toEqual([
    409,
    expect.stringContaining('can no longer be taken back'),
  ]);
  const book = plain(await (await as('owner')).text('/units/F-0509/book'));
  expect(book).toMatch(/taken back by oak, .*: swap taken back/);
  expect(await store.read((tx) => tx.facts.list('fitting', {}))).toHaveLength(teamDocument().fittings.length);
});

it.each([
  [{ off: 'F-0501', on: 'F-0601', day: '2026-06-10', when: 'before' }, 422],
  [{ off: 'F-0501', on: 'F-9999', day: '2026-06-10', when: 'before' }, 422],
  [{ off: 'F-0001', on: 'F-0501', day: '2026-06-10', when: 'before' }, 422],
  [{ off: 'F-0501', on: 'F-0501', day: '2026-06-10', when: 'before' }, 409],
  [{ off: 'F-0501', on: 'F-0509', day: '2026-07-10', when: 'before' }, 422],
  [{ off: 'F-0501', on: 'F-0509', day: '2026-06-10', when: 'sometime' }, 422],
])('a swap with what is not the fleet’s, or does not fit, moves neither: %j', async (fields, status) => {
  const { store, as } = await teamWorld();
  const oak = await as('oak');
  const before = await store.read((tx) => tx.facts.count());
  const response = await oak.send(SWAP, SWAP, fields);
  expect(response.status).toBe(status);
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
});

it('another fleet’s unit and one that is not there are refused in the same words', async () => {
  const { as } = await teamWorld();
  const oak = await as('oak');
  const answers: string[] = [];
  for (const swapWith of ['F-0601', 'F-0001', 'F-9999']) {
    const response = await oak.send('/units/F-0501', '/units/F-0501/swap', {
      swapWith,
      swapFrom: '2026-06-10',
    });
    expect(response.status).toBe(422);
    answers.push((await response.text()).replaceAll(/name="token" value="[^"]*"/g, ''));
  }
  expect(new Set(answers).size).toBe(1);
  expect(answers[0]).not.toContain('F-0601');
});

it('a mechanic logs a service on a unit of the fleet, and sees no way to what is not theirs', async () => {
  const { as } = await teamWorld();
  const oak = await as('oak');
  const response = await oak.send('/units/F-0501', '/units/F-0501/service', {
    kind: 'lower-leg',
    on: '2026-06-10',
    foamRings: 'honey',
  });
  expect(response.headers.get('location')).toBe('/units/F-0501?done=service');
  const text = await oak.text('/units/F-0501');
  expect(plain(text)).toContain('honey');
  expect(await rowOf(oak, 'F-0501')).toContain('lower-leg service: 20.0 h');
  const links = [...text.matchAll(/href="(\/[^"]*)"/g)].map(([, path]) => path!);
  for (const path of links) expect((await oak.get(path)).status, path).toBeLessThan(400);
});

it('a unit that came from outside keeps its hours and book, and the bikes of others stay unnamed', async () => {
  const { as } = await teamWorld();
  const owner = await as('owner');
  await owner.send('/units/F-0001', '/units/F-0001/off', { offFrom: '2026-06-08' });
  const oak = await as('oak');
  expect((await oak.get('/units/F-0001')).status).toBe(404);
  await owner.send('/units/F-0509', '/units/F-0509/fit', { fitBike: 'x1', fitFrom: '2026-06-09' });
  await owner.send('/units/F-0501', '/units/F-0501/off', { offFrom: '2026-06-08' });
  const fitted = await owner.send('/units/F-0001', '/units/F-0001/fit', {
    fitBike: 'x1',
    fitFrom: '2026-06-09',
  });
  expect(fitted.status).toBe(303);
  const text = plain(await oak.text('/units/F-0001'));
  expect(text).toContain('a bike outside this fleet');
  expect(text).not.toMatch(/Green trail bike|Lanternby/);
});

it('races of a mechanic are the own fleet’s, with its bikes alone', async () => {
  const { as } = await teamWorld();
  const [oak, owner] = [await as('oak'), await as('owner')];
  const own = plain(await oak.text('/races'));
  expect(own).toContain('Oakhollow Downhill');
  expect(own).not.toContain('Elmstead Sprint');
  expect(plain(await owner.text('/races'))).toContain('Elmstead Sprint');
  expect(plain(await oak.text('/races/r-oak'))).toContain('For the truck');
});

it('a ride handed over for two bikes is asked about by their names, and both bikes say that it waits', async () => {
  const world = await teamWorld();
  const oak = await world.as('oak');
  expect(plain(await oak.text('/fleets/t1'))).not.toContain('are not counted yet');
  expect(await take(world, { name: 'pit.gpx', bike: 'x1' })).toBe('counted null');
  expect(await take(world, { name: 'pit.gpx', bike: 'x2' })).toBe('ask which-bike');
  expect(plain(await oak.text('/fleets/t1'))).toContain(
    'The owner or a technician has to answer for some rides; they do not count yet: Race bike x1 and Race bike x2.',
  );
  for (const bike of ['x1', 'x2'])
    expect(plain(await oak.text(`/bikes/${bike}`)), bike).toContain(
      'Not counted yet; the owner or a technician has to answer first: 1 ride.',
    );
  expect(plain(await oak.text('/bikes/x3'))).not.toContain('Not counted yet');
  const tray = plain(await (await world.as('owner')).text('/tray'));
  expect(tray).toMatch(/Which bike was this on\?.*handed over for Race bike x1 and Race bike x2/s);
});

it('months that are up are told with their year, on the fleet and on a race’s sheet', async () => {
  const world = await teamWorld();
  const read = readDocument({
    bikes: [{ id: 'x4', fleet: 't1', name: 'Race bike x4', type: 'gravity' }],
    units: [{ tag: 'F-0510', unitKind: 'fork', history: 'new' }],
    fittings: [{ unit: 'F-0510', bike: 'x4', from: '2025-03-01' }],
    races: [{ id: 'r-ash', name: 'Ashcombe Downhill', on: '2027-06-26', bikes: ['x3', 'x4'] }],
  });
  if ('wrong' in read) throw new Error(JSON.stringify(read.wrong));
  const entry = { by: 'import', at: world.deps.clock.now() };
  await world.store.write((tx) => importLedger(tx, read.document, entry));
  const oak = await world.as('oak');
  const row = rowsOf(await oak.text('/fleets/t1')).find((one) => one.startsWith('F-0510'));
  expect(row).toMatch(/over interval.*lower-leg service: 20\.0 h.*12 months reached on 1 March 2026/);
  const sheet = rowsOf(await oak.text('/races/r-ash'));
  expect(sheet.find((one) => one.startsWith('F-0510'))).toContain('its months were up on 1 March 2026');
  expect(sheet.find((one) => one.startsWith('F-0503'))).toMatch(/its months are up on \d+ \w+ 2027/);
});
