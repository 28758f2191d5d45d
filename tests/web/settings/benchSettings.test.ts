/** What the bench can take is set on a page, and days are offered by it at once. */
import { expect, test } from 'vitest';
import { listOfferedDays } from '../../../src/flow/plan/leadDays.js';
import { getWorkshop } from '../../../src/flow/settings.js';
import { plain, signedIn } from '../visitor.js';
import { NOW, webWorld } from '../webWorld.js';

const PAGE = '/settings/bench';
const SET = { minutes: '300', places: '4', raceDays: '2', closeFrom: '', closeTo: '' };

async function opened() {
  const world = await webWorld();
  const owner = await signedIn(world.app);
  const fact = async () => /name="fact" value="([^"]+)"/.exec(await owner.text(PAGE))![1]!;
  const offered = () =>
    world.store.read(async (tx) => {
      const unitId = (await tx.handles.find('unit', 'F-0003'))!;
      return listOfferedDays(tx, { unitId, jobs: ['lower-leg'], count: 2 }, NOW);
    });
  return { ...world, owner, fact, offered };
}

test('closed days are offered to nobody, until they are opened again', async () => {
  const { owner, store, fact, offered } = await opened();
  const [first] = await offered();
  const closing = { ...SET, fact: await fact(), closeFrom: first!, closeTo: first! };
  expect((await owner.send(PAGE, PAGE, closing)).headers.get('location')).toBe(`${PAGE}?done=saved`);
  expect(await offered()).not.toContain(first);
  expect(await store.read(getWorkshop)).toMatchObject({
    ...{ placesAWeek: 4, benchMinutesADay: 300, raceOpenDays: 2, closedDays: [first] },
  });
  const page = await owner.text(PAGE);
  expect(page).toContain(`name="reopen" value="${first}"`);
  await owner.send(PAGE, PAGE, { ...SET, places: '', fact: await fact(), reopen: [first!] });
  expect(await offered()).toContain(first);
  expect(await store.read(getWorkshop)).toMatchObject({ placesAWeek: null, closedDays: [] });
});

test.each([
  [{ minutes: '0' }, 'Write whole numbers'],
  [{ places: '0' }, 'Write whole numbers'],
  [{ raceDays: 'two' }, 'Write whole numbers'],
  [{ closeFrom: '2026-07-10', closeTo: '2026-07-01' }, 'Choose the first and the last closed day'],
  [{ closeFrom: '2026-07-10', closeTo: '2029-07-01' }, 'Choose the first and the last closed day'],
])('%j is refused, and what was typed stays', async (wrong, message) => {
  const { owner, store, fact } = await opened();
  const before = await store.read((tx) => tx.facts.count());
  const response = await owner.send(PAGE, PAGE, { ...SET, fact: await fact(), minutes: '277', ...wrong });
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(plain(text)).toContain(message);
  if (!('minutes' in wrong)) expect(text).toContain('value="277"');
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
});
