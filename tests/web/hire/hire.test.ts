/** Bikes that go out and come back with days times typed hours, what is seen then, and units on loan. */
import { expect, it } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { teamWorld } from '../teamWorld.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, webWorld } from '../webWorld.js';

const PAGE = '/fleets/t1/hire';
const OUT = {
  does: 'out',
  bike: 'x1',
  until: '2026-06-12',
  hoursADay: '1,5',
  ground: 'rough',
  note: 'slip 12',
};
const factOf = async (visitor: Visitor): Promise<string> =>
  /name="fact" value="([^"]+)"/.exec(await visitor.text(PAGE))![1]!;

it('a bike goes out, comes back with its days times the typed hours, and is out once only', async () => {
  const { store, as } = await teamWorld();
  const oak = await as('oak');
  expect(plain(await oak.text(PAGE))).toContain('No bike is out.');
  expect((await oak.send(PAGE, PAGE, { ...OUT, hoursADay: '' })).status).toBe(422);
  expect((await oak.send(PAGE, PAGE, { ...OUT, until: '2026-06-01' })).status).toBe(422);
  expect((await oak.send(PAGE, PAGE, OUT)).headers.get('location')).toBe(`${PAGE}?done=out`);
  expect(plain(await oak.text(PAGE))).toMatch(
    /Race bike x1 out since 10 June ?slip 12 ?expected Friday 12 June/,
  );
  const twice = await oak.send(PAGE, PAGE, OUT);
  expect(twice.status).toBe(409);
  expect(plain(await twice.text())).toContain('Race bike x1 has been out since 10 June.');

  const unitId = (await store.read((tx) => tx.handles.find('unit', 'F-0501')))!;
  const moving = async (): Promise<number> =>
    (await store.read((tx) => tx.standings.listOf(unitId)))[0]!.movingS / 3600;
  const before = await moving();
  const back = { does: 'back', bike: 'x1', fact: await factOf(oak), hoursADay: '1.5', ground: 'rough' };
  const tooMany = await oak.send(PAGE, PAGE, { ...back, daysRidden: '2' });
  expect(plain(await tooMany.text())).toContain(
    'Days ridden: the bike was out for 1 days, so it cannot have been ridden on more.',
  );
  expect((await oak.send(PAGE, PAGE, { ...back, daysRidden: '1' })).headers.get('location')).toBe(
    `${PAGE}?done=back`,
  );
  expect((await moving()) - before).toBe(1.5);
  const [hours] = (await store.read((tx) => tx.facts.list('hours'))).slice(-1);
  expect(hours!.body).toMatchObject({ on: '2026-06-10', minutes: 90, ground: 'rough' });
  // The same return again is seen, and adds nothing.
  expect((await oak.send(PAGE, PAGE, { ...back, daysRidden: '1' })).status).toBe(409);
  expect((await moving()) - before).toBe(1.5);
  // What was typed is there the next time.
  expect(await oak.text(PAGE)).toContain('value="1.5"');
  expect((await checkLedger(store)).faults).toEqual([]);
});

it('what forbids riding is marked when it comes back, and such a bike does not go out', async () => {
  const { as } = await teamWorld();
  const oak = await as('oak');
  await oak.send(PAGE, PAGE, OUT);
  const back = { does: 'back', bike: 'x1', fact: await factOf(oak), hoursADay: '1', ground: 'typical' };
  const seen = await oak.send(PAGE, PAGE, { ...back, daysRidden: '0', 'harm F-0501 cracked': 'yes' });
  expect(seen.headers.get('location')).toBe(`${PAGE}?done=stopped`);
  expect(plain(await oak.text('/units/F-0501'))).toContain('seen when it came back: cracked or bent');
  const again = await oak.send(PAGE, PAGE, OUT);
  expect(again.status).toBe(409);
  expect(plain(await again.text())).toContain('cannot go out: F-0501 on it is marked “stop riding”');
});

it('a bike of another fleet is none of a mechanic’s', async () => {
  const { store, as } = await teamWorld();
  const oak = await as('oak');
  const before = await store.read((tx) => tx.facts.count());
  expect((await oak.send(PAGE, PAGE, { ...OUT, bike: 'y1' })).status).toBe(422);
  expect((await oak.get('/fleets/t2/hire')).status).toBe(404);
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
});

it('a fork on loan is on the customer’s bike by its time line, with its day to come back, and no spare', async () => {
  const { store, as } = await teamWorld();
  const owner = await as('owner');
  const page = '/units/F-0509';
  await owner.send(page, `${page}/fleet`, { fleet: 't1', fleetFrom: '2026-01-01' });
  const fit = {
    fitBike: 'b1',
    fitFrom: '2026-06-10',
    fitWhen: 'before',
    loanUntil: '2026-06-20',
    clears: 'yes',
  };
  expect((await owner.send(page, `${page}/fit`, { ...fit, loanUntil: '2026-06-01' })).status).toBe(422);
  const response = await owner.send(page, `${page}/fit`, { ...fit, moved: 'yes' });
  expect(response.headers.get('location')).toBe(`${page}?done=fit`);
  const name = 'Green trail bike';
  expect(plain(await owner.text(page))).toContain(`on loan: ${name}, until Saturday 20 June`);
  expect(plain(await owner.text(PAGE))).toMatch(new RegExp(`F-0509.*on loan: ${name}, until`));
  // A mechanic is told neither whose bike it is nor that it could be swapped.
  const oak = await as('oak');
  expect(plain(await oak.text(PAGE))).toContain('on loan: a bike outside this fleet, until');
  expect(plain(await oak.text('/fleets/t1/swap?off=F-0501'))).not.toContain('F-0509');
  // It comes off, and the book keeps that it was a loan.
  await owner.send(page, `${page}/off`, { offFrom: '2026-06-10', moved: 'yes' });
  expect(plain(await owner.text(page))).not.toContain('on loan: Green');
  expect((await checkLedger(store)).faults).toEqual([]);
});

it('speaks Portuguese', async () => {
  const fleets = [{ id: 't1', name: 'Aluguer' }];
  const workshop = { ...DOCUMENT.workshop, language: 'pt' };
  const { app } = await webWorld({ document: { ...DOCUMENT, workshop, fleets } });
  expect(plain(await (await signedIn(app)).text(PAGE))).toContain('Nenhuma bicicleta está fora.');
});
