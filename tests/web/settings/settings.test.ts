import { expect, test } from 'vitest';
import { listDue } from '../../../src/flow/due/listDue.js';
import { getWeights } from '../../../src/flow/settings.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, NOW, type WebWorld, webWorld } from '../webWorld.js';

const PAGE = '/settings/workshop';
const MAILS = '/settings/mails';
const WEIGHTS = '/settings/weights';

async function opened(document: unknown = DOCUMENT): Promise<WebWorld & { visitor: Visitor }> {
  const world = await webWorld({ document });
  return { ...world, visitor: await signedIn(world.app) };
}

const workshopOf = async ({ store }: WebWorld) =>
  (await store.read((tx) => tx.facts.list('workshop'))).at(-1)!;

const factOn = async (visitor: Visitor): Promise<string> =>
  /name="fact" value="([^"]+)"/.exec(await visitor.text(PAGE))![1]!;

const FIELDS = {
  name: 'Tumbledown Bench & Sons',
  email: 'bench@example.org',
  phone: '+000 555 0100',
  address: '1 Nowhere Lane\r\n00000 Notatown',
  openingHours: 'Tuesday to Saturday, 10 to 18',
  timeZone: 'Europe/Lisbon',
  openDays: ['mon', 'tue'],
  language: 'en',
};

test('the settings are saved as a fact in the place of the one before, and the rest of it stays', async () => {
  const world = await opened({
    ...DOCUMENT,
    workshop: { ...DOCUMENT.workshop, closedDays: ['2026-08-01'], placesAWeek: 7 },
  });
  const { visitor } = world;
  const before = await workshopOf(world);
  expect(plain(await visitor.text(PAGE))).toContain('As set by import, 10 June.');
  const response = await visitor.send(PAGE, PAGE, { ...FIELDS, fact: before.id });
  expect(response.headers.get('location')).toBe(`${PAGE}?done=saved`);
  const after = await workshopOf(world);
  expect(after).toMatchObject({ replacesId: before.id, entityId: before.entityId, recordedBy: 'owner' });
  expect(after.body).toEqual({
    ...before.body,
    name: 'Tumbledown Bench & Sons',
    email: 'bench@example.org',
    phone: '+000 555 0100',
    address: '1 Nowhere Lane\n00000 Notatown',
    openingHours: 'Tuesday to Saturday, 10 to 18',
    openDays: ['mon', 'tue'],
  });
  expect(after.body).toMatchObject({ closedDays: ['2026-08-01'], placesAWeek: 7 });
  expect(plain(await visitor.text(`${PAGE}?done=saved`))).toContain('It is saved.');
  const again = await visitor.send(PAGE, PAGE, { ...FIELDS, fact: after.id });
  expect(again.headers.get('location')).toBe(`${PAGE}?done=unchanged`);
});

test('more days of notice make a service come up sooner, at once', async () => {
  // Four rides fewer leave 17 hours, at three a week: some forty days.
  const world = await opened({ ...DOCUMENT, hours: DOCUMENT.hours.slice(0, -4) });
  const stateOf = async (serviceKind: string): Promise<string> =>
    (await world.store.read((tx) => listDue(tx, NOW))).find(
      (row) => row.unit === 'F-0001' && row.serviceKind === serviceKind,
    )!.state;
  expect(await stateOf('lower-leg')).toBe('in-time');
  await world.visitor.send(MAILS, MAILS, { noticeDays: '90', digestHour: '7' });
  expect(await stateOf('lower-leg')).toBe('coming-up');
});

test('two who change the settings at once see each other', async () => {
  const world = await opened();
  const fact = await factOn(world.visitor);
  await world.visitor.send(PAGE, PAGE, { ...FIELDS, fact });
  const late = await world.visitor.send(PAGE, PAGE, { ...FIELDS, name: 'Late name', fact });
  expect(late.status).toBe(409);
  const text = await late.text();
  expect(plain(text)).toContain('owner has changed this (10 June, 10:00). Your change was not saved.');
  expect(text).toContain('value="Late name"');
  expect((await workshopOf(world)).body.name).toBe('Tumbledown Bench & Sons');
});

test.each([
  ['name', { name: '' }, 'Give the workshop a name'],
  ['name', { name: 'a\u2028b' }, 'Give the workshop a name'],
  ['email', { email: 'no address' }, 'This is no e-mail address'],
  ['phone', { phone: '0'.repeat(41) }, 'at most 40 characters'],
  ['address', { address: 'x'.repeat(501) }, 'at most 500 characters'],
  ['address', { address: 'a\u0007b' }, 'at most 500 characters'],
  ['openingHours', { openingHours: 'a\nb' }, 'on one line'],
  ['timeZone', { timeZone: 'Mars/Base' }, 'Choose a time zone'],
  ['openDays', { openDays: [] }, 'Tick at least one open day'],
])('a wrong %s is told beside its field, and nothing is saved', async (name, wrong, message) => {
  const world = await opened();
  const before = await workshopOf(world);
  const response = await world.visitor.send(PAGE, PAGE, { ...FIELDS, ...wrong, fact: before.id });
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(text).toContain(`id="${name}-wrong"`);
  expect(plain(text)).toContain(message);
  expect((await workshopOf(world)).id).toBe(before.id);
});

test('the settings cannot be sent for another fact, nor from elsewhere', async () => {
  const world = await opened();
  const unit = (await world.store.read((tx) => tx.facts.list('unit')))[0]!;
  expect((await world.visitor.send(PAGE, PAGE, { ...FIELDS, fact: unit.id })).status).toBe(409);
  expect((await world.visitor.send(PAGE, PAGE, { ...FIELDS, fact: 'none' })).status).toBe(404);
  expect((await world.visitor.post(PAGE, { ...FIELDS, fact: await factOn(world.visitor) })).status).toBe(403);
  expect((await world.store.read((tx) => tx.facts.current('unit', unit.entityId)))!.id).toBe(unit.id);
});

test('another language is spoken from the next page on', async () => {
  const { visitor } = await opened();
  await visitor.send(PAGE, PAGE, { ...FIELDS, language: 'pt', fact: await factOn(visitor) });
  expect(plain(await visitor.text(`${PAGE}?done=saved`))).toContain('Está guardado.');
  expect(plain(await visitor.text(WEIGHTS))).toContain('Agora uma hora conta 0,50 em terreno suave');
});

test('weights are previewed by unit and by riders who could hear of it, and nothing is saved by looking', async () => {
  const world = await opened();
  const { visitor, store } = world;
  const before = await store.read((tx) => tx.facts.count());
  // 45 hours on typical ground weigh 67.5 at a weight of 1.5: over 1.25 × 50.
  const text = await visitor.text(`${WEIGHTS}?smooth=0.5&typical=1,5&rough=2`);
  expect(plain(text)).toContain('With 0.50, 1.50 and 2.00: 1 unit of 4 units would change state:');
  expect(plain(text)).toContain('F-0001 lower-leg service coming up over interval');
  expect(plain(text)).toContain('1 rider could be written to because of it.');
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
  const nothing = plain(await visitor.text(`${WEIGHTS}?smooth=0.51&typical=1&rough=2`));
  expect(nothing).toContain('No state would change. 4 units looked at.');
  expect(nothing).not.toContain('could be written to');
});

test('what was previewed is what is saved', async () => {
  const world = await opened();
  const { visitor, store } = world;
  const preview = `${WEIGHTS}?smooth=0.5&typical=1.5&rough=2`;
  const saved = await visitor.send(preview, WEIGHTS, { smooth: '0.5', typical: '1.5', rough: '2' });
  expect(saved.headers.get('location')).toBe(`${WEIGHTS}?done=saved`);
  expect(await store.read(getWeights)).toEqual({ smooth: 0.5, typical: 1.5, rough: 2 });
  const row = (await store.read((tx) => listDue(tx, NOW))).find(
    (one) => one.unit === 'F-0001' && one.serviceKind === 'lower-leg',
  )!;
  expect(row).toMatchObject({ terrainHoursSince: 67.5, movingHoursSince: 45, state: 'over-interval' });
  expect(plain(await visitor.text(`${WEIGHTS}?done=saved`))).toContain('The weights are saved');
  const again = await visitor.send(WEIGHTS, WEIGHTS, { smooth: '0.5', typical: '1.5', rough: '2' });
  expect(again.headers.get('location')).toBe(`${WEIGHTS}?done=unchanged`);
});

test('who takes no reminders, or cannot be reached, is not counted among those who could hear', async () => {
  const world = await opened();
  await world.store.write(async (tx) => {
    const riderId = (await tx.handles.find('rider', 'r1'))!;
    await tx.contacts.setUnsubscribed(riderId, NOW);
  });
  expect(plain(await world.visitor.text(`${WEIGHTS}?smooth=0.5&typical=1.5&rough=2`))).toContain(
    'No rider would be written to because of it.',
  );
});

test.each([
  ['out of range', { smooth: '0.05', typical: '1', rough: '2' }, 'from 0.5 to 3'],
  ['no number', { smooth: '0.5', typical: 'one', rough: '2' }, 'from 0.5 to 3'],
  ['too much', { smooth: '0.5', typical: '1', rough: '4.5' }, 'from 0.5 to 3'],
  ['falling', { smooth: '1.5', typical: '1', rough: '2' }, 'no number may be lower than the one before'],
])('weights %s are refused, when looked at and when sent', async (_, fields, message) => {
  const { visitor, store } = await opened();
  const looked = await visitor.get(`${WEIGHTS}?${new URLSearchParams(fields)}`);
  expect(looked.status).toBe(422);
  expect(plain(await looked.text())).toContain(message);
  const sent = await visitor.send(WEIGHTS, WEIGHTS, fields);
  expect(sent.status).toBe(422);
  expect(await store.read((tx) => tx.facts.list('weights'))).toEqual([]);
});

test('weights typed after the preview are shown before they are saved', async () => {
  const { visitor, store } = await opened();
  const preview = `${WEIGHTS}?smooth=0.5&typical=1.5&rough=2`;
  const shown = /name="shown" value="([^"]*)"/.exec(await visitor.text(preview))![1]!;
  const asked = await visitor.send(preview, WEIGHTS, { smooth: '0.5', typical: '1.2', rough: '2', shown });
  expect(asked.status).toBe(409);
  expect(plain(await asked.text())).toContain('With 0.50, 1.20 and 2.00:');
  expect((await store.read(getWeights)).typical).toBe(1);
});
