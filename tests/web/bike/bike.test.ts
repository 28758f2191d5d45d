import { expect, test } from 'vitest';
import { take } from '../takeTrack.js';
import { plain, signedIn } from '../visitor.js';
import { webWorld } from '../webWorld.js';

const PAGE = '/bikes/b1';

async function opened() {
  const world = await webWorld();
  // Half an hour, recorded.
  expect(await take(world, { name: 'ride.gpx', rider: 'r1', type: 'cycling' })).toBe('counted null');
  return { world, visitor: await signedIn(world.app) };
}

test('an unrecorded share of 10 % and hand-entered hours stand on lines of their own, here and with the unit', async () => {
  const { visitor } = await opened();
  const before = plain(await visitor.text(PAGE));
  expect(before).toMatch(/from ride files 0\.5 h [\d.]+ h entered by hand 45\.0 h 45\.0 h unrecorded riding/);
  const fields = { share: '10', from: '2026-01-01', to: '' };
  const sent = await visitor.send(PAGE, `${PAGE}/unrecorded`, fields);
  expect(sent.headers.get('location')).toBe(`${PAGE}?done=estimated`);
  const after = plain(await visitor.text(`${PAGE}?done=estimated`));
  expect(after).toContain('The estimate is added.');
  expect(after).toContain('10 % from 1 January on');
  // A tenth of all riding is a ninth of the half hour.
  expect(after).toMatch(/unrecorded riding an estimate, from the share that somebody gave 0\.1 h/);
  const unit = plain(await visitor.text('/units/F-0001'));
  expect(unit).toMatch(/from ride files moving 0\.5 h, terrain [\d.]+ h moving 0\.5 h/);
  expect(unit).toMatch(/entered by hand moving 45\.0 h, terrain 45\.0 h moving 45\.0 h/);
  expect(unit).toMatch(/unrecorded riding an estimate, from the share that somebody gave moving 0\.1 h/);
  expect(unit).toMatch(/All together moving 45\.6 h/);
  expect(plain(await visitor.text('/units/F-0001/book'))).toMatch(/0\.1 h moving unrecorded, an estimate/);
});

test.each([
  ['no number', { share: 'ten', from: '2026-01-01', to: '' }, 422, /more than 0 and at most 90/],
  ['all of it', { share: '100', from: '2026-01-01', to: '' }, 422, /more than 0 and at most 90/],
  ['no day', { share: '10', from: '', to: '' }, 422, /day/],
  ['an end before it begins', { share: '10', from: '2026-05-01', to: '2026-04-01' }, 409, /must end after/],
])('%s is refused in words, and nothing is saved', async (_, fields, status, said) => {
  const { world, visitor } = await opened();
  const sent = await visitor.send(PAGE, `${PAGE}/unrecorded`, fields);
  expect(sent.status).toBe(status);
  expect(plain(await sent.text())).toMatch(said);
  expect(await world.store.read((tx) => tx.facts.list('unrecorded'))).toEqual([]);
});
