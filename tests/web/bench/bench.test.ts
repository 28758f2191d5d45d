import { expect, it } from 'vitest';
import { booked } from '../../fixtures/booked.js';
import { teamWorld } from '../teamWorld.js';
import { plain, signedIn } from '../visitor.js';
import { NOW, TODAY, webWorld } from '../webWorld.js';

const factOn = (page: string): string => /name="fact" value="([^"]*)"/.exec(page)?.[1] ?? '';

it('a job goes over the board: arrived with a promise, on the bench, logged, told, collected', async () => {
  const { app } = await webWorld();
  const owner = await signedIn(app);
  const step = async (to: string): Promise<string> => {
    const fact = factOn(await owner.text('/bench'));
    const response = await owner.send('/bench', '/units/F-0001/step', { to, fact, from: 'bench' });
    expect(response.headers.get('location')).toBe(`/bench?done=${to}`);
    return plain(await owner.text('/bench'));
  };
  expect(plain(await owner.text('/bench'))).toContain('No unit is at the workshop.');
  const said = { tag: 'F-0001', wish: 'quieter', promisedFor: '2026-06-12', price: '90', missing: '' };
  await owner.send('/bench', '/bench/arrive', said);
  expect(plain(await owner.text('/bench'))).toMatch(
    /Arrived 1 F-0001 .*Green trail bike · Pia Lanternby.*promised for Friday 12 June.*quieter.*90/,
  );
  expect(await step('on-the-bench')).toMatch(/On the bench 1 F-0001/);
  const logged = { kind: 'lower-leg', on: '2026-06-10', jobDone: 'yes', from: 'bench' };
  const response = await owner.send('/units/F-0001/service', '/units/F-0001/service', logged);
  expect(response.headers.get('location')).toBe('/bench?done=service');
  expect(plain(await owner.text('/bench'))).toMatch(/Done 1 F-0001.*done: lower-leg service.*next: /);
  expect(await step('informed')).toMatch(/Rider informed 1 F-0001.*told by phone/);
  expect(await step('collected')).not.toContain('F-0001');
  expect(plain(await owner.text('/units/F-0001'))).toMatch(/At the workshop: collected; quieter/);
});

it('what cannot be is said where it was typed, and what was typed stays', async () => {
  const { app } = await webWorld();
  const owner = await signedIn(app);
  const wrong = await owner.send('/bench', '/bench/arrive', { tag: 'F-9', wish: 'quieter' });
  expect(wrong.status).toBe(422);
  const page = await wrong.text();
  expect(plain(page)).toContain('There is no unit with this tag.');
  expect(page).toContain('value="F-9"');
  expect(page).toContain('value="quieter"');
  await owner.send('/bench', '/bench/arrive', { tag: 'F-0001' });
  const fact = factOn(await owner.text('/bench'));
  await owner.send('/bench', '/units/F-0001/step', { to: 'on-the-bench', fact, from: 'bench' });
  const late = await owner.send('/bench', '/units/F-0001/step', { to: 'done', fact, from: 'bench' });
  expect(late.status).toBe(409);
  expect(plain(await late.text())).toContain('owner has changed this');
});

it('a fork of unknown history at the workshop is to be opened, and takes time', async () => {
  const { app } = await webWorld();
  const owner = await signedIn(app);
  await owner.send('/bench', '/bench/arrive', { tag: 'F-0003' });
  expect(plain(await owner.text('/bench'))).toMatch(/inspect: history unknown, open it and look, 150 min/);
});

it('what lies there with nothing due says what comes next, and holds its time', async () => {
  const { app } = await webWorld();
  const owner = await signedIn(app);
  for (const tag of ['F-0002', 'A-0001']) await owner.send('/bench', '/bench/arrive', { tag });
  const board = plain(await owner.text('/bench'));
  expect(board).not.toMatch(/nothing is due|\b0 min/);
  expect(board).toMatch(/F-0002.*nothing due yet; next: lower-leg service, 60 min/);
  expect(plain(await owner.text('/load'))).not.toMatch(/on the bench of which nothing is due/);
});

it('who is booked for today is one tap away from having arrived', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  await booked(world.store, 'F-0001', TODAY, { at: NOW });
  expect(plain(await owner.text('/bench'))).toMatch(/Booked for today F-0001 , lower-leg service/);
  await owner.send('/bench', '/units/F-0001/arrive', { from: 'bench' });
  expect(plain(await owner.text('/bench'))).not.toContain('Booked for today');
});

it('a mail tells the rider that it is ready, and who has no address is to be called', async () => {
  const { app, store } = await webWorld();
  const owner = await signedIn(app);
  const ready = () => store.read((tx) => tx.mails.listOfKind('ready'));
  for (const [tag, isMailed] of [
    ['F-0001', true],
    ['F-0002', false],
  ] as const) {
    await owner.send('/bench', '/bench/arrive', { tag });
    const unitPage = `/units/${tag}`;
    const step = async (to: string, more: Record<string, string> = {}) => {
      const fact = factOn(await owner.text(unitPage));
      return owner.send(unitPage, `${unitPage}/step`, { to, fact, from: 'bench', ...more });
    };
    await step('done');
    const board = plain(await owner.text('/bench'));
    expect(board.includes('Mail to Pia Lanternby: it is ready')).toBe(isMailed);
    const answer = await step('informed', { byMail: 'yes' });
    expect(answer.status).toBe(isMailed ? 303 : 422);
    expect(plain(await owner.text(unitPage)).includes('told by mail')).toBe(isMailed);
    await step('collected');
  }
  expect(await ready()).toHaveLength(1);
});

it('the list of a day tells what is booked from what is asked for, and what a unit at the workshop came for', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  await booked(world.store, 'F-0001', TODAY, { at: NOW, as: 'asked-for' });
  expect(plain(await owner.text('/day'))).toMatch(/F-0001.*lower-leg service.*asked for, not booked yet/);
  await booked(world.store, 'F-0001', TODAY, { at: NOW });
  expect(plain(await owner.text('/day'))).not.toContain('not booked yet');
  for (const tag of ['F-0002', 'F-0003']) await owner.send('/bench', '/bench/arrive', { tag });
  const page = plain(await owner.text('/day'));
  expect(page).toMatch(/F-0002.*nothing due yet; next: lower-leg service.*on the bench.*60 min/);
  expect(page).toMatch(/F-0003.*inspect: history unknown, open it and look.*on the bench.*150 min/);
  expect(page).not.toMatch(/nothing is due/);
});
