import { expect, test } from 'vitest';
import { findWorkshop } from '../../../src/flow/settings.js';
import { signedIn } from '../visitor.js';
import { DOCUMENT, NOW, takeDocument, webWorld } from '../webWorld.js';

const FORM = {
  name: 'Tumbledown Suspension Bench',
  timeZone: 'Europe/Lisbon',
  openDays: ['mon', 'fri'],
  language: 'pt',
  email: '',
  phone: '+000 000 000',
};

test('an empty store leads to a page that says what to do, and a form on it makes the workshop', async () => {
  const { app, store } = await webWorld({ document: null });
  const visitor = await signedIn(app);
  expect((await visitor.get('/intervals')).headers.get('location')).toBe('/workshop');
  const first = await visitor.text('/workshop');
  expect(first).toContain('stanchion import FILE.json');
  expect(first).toContain('stanchion import riders riders.csv');
  const response = await visitor.send('/workshop', '/workshop', FORM);
  expect(response.headers.get('location')).toBe('/');
  const fact = (await store.read(findWorkshop))!;
  expect(fact.recordedBy).toBe('owner');
  expect(fact.body).toMatchObject({
    name: FORM.name,
    timeZone: 'Europe/Lisbon',
    openDays: ['mon', 'fri'],
    language: 'pt',
    email: null,
    phone: '+000 000 000',
  });
  const text = await visitor.text('/due');
  expect(text).toContain('Ainda não há unidades.');
  expect((await visitor.get('/workshop')).headers.get('location')).toBe('/');
  // An import fits in with what was made here.
  await takeDocument(store, DOCUMENT, NOW);
  expect(await visitor.text('/due')).toContain('F-0001');
});

test('a workshop is made once', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const response = await visitor.send('/', '/workshop', FORM);
  expect(response.status).toBe(409);
  expect(await response.text()).toContain('There is a workshop in this data folder already.');
  expect((await store.read(findWorkshop))!.body.openDays).toEqual(DOCUMENT.workshop.openDays);
});

test.each([
  ['no name', { name: '  ' }, 'Give the workshop a name'],
  ['a name of two lines', { name: 'One\nTwo' }, 'Give the workshop a name'],
  ['an unheard-of time zone', { timeZone: 'Nowhere/Town' }, 'Choose a time zone from the list.'],
  ['no open day', { openDays: [] }, 'Tick at least one open day.'],
  ['a made-up day', { openDays: ['someday'] }, 'Tick at least one open day.'],
  ['half an address', { email: 'owner@' }, 'This is no e-mail address.'],
  ['two lines for a phone', { phone: '1\r\nBcc: x@example.org' }, 'A phone number has at most 40 characters'],
])('%s is refused in plain words, and what was typed stays', async (_, wrong, message) => {
  const { app, store } = await webWorld({ document: null });
  const visitor = await signedIn(app);
  const response = await visitor.send('/workshop', '/workshop', { ...FORM, ...wrong });
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(text).toContain(message);
  expect(text).toContain('<option value="pt" selected>');
  expect(await store.read(findWorkshop)).toBeUndefined();
});
