/** One field finds whom and what people look for, as the ledger stands now; a mechanic only what is the own fleet's. */
import { describe, expect, it } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { forgetRider } from '../../../src/flow/carry/forgetRider.js';
import { replaceFact, voidFact } from '../../../src/flow/facts/changeFact.js';
import { putRider } from '../../../src/flow/facts/putRider.js';
import { teamWorld } from '../teamWorld.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, NOW, webWorld } from '../webWorld.js';

const entry = { by: 'a test', at: NOW };
const [ana, otto] = DOCUMENT.riders;
const SEEN = {
  ...DOCUMENT,
  riders: [{ ...ana, name: 'Pía Lanternby', phone: '+351 912 345 678' }, otto],
  units: DOCUMENT.units.map((unit) => (unit.tag === 'F-0001' ? { ...unit, serial: 'SN 77/2019-XK' } : unit)),
};

async function opened() {
  const world = await webWorld({ document: SEEN });
  return { ...world, owner: await signedIn(world.app) };
}

/** Where the field leads, or what the list says. */
async function sought(visitor: Visitor, q: string): Promise<string> {
  const response = await visitor.get(`/find?${new URLSearchParams({ q })}`);
  if (response.status === 303) return response.headers.get('location')!;
  const text = await response.text();
  return plain(text.slice(text.indexOf('<main'), text.indexOf('</main>')));
}

describe('the field', () => {
  it('stands on every page and keeps what was looked for', async () => {
    const { owner } = await opened();
    for (const page of ['/', '/due', '/riders/r1', '/units/F-0001', '/settings', '/find?q=zebra'])
      expect((await owner.text(page)).match(/<input id="find-anything"/g), page).toHaveLength(1);
    expect(await owner.text('/find?q=zebra')).toMatch(/id="find-anything"[^>]* value="zebra"/);
  });

  it.each([
    ['lantern', '/riders/r1'],
    ['PIA', '/riders/r1'],
    ['912345678', '/riders/r1'],
    ['912 345 678', '/riders/r1'],
    ['r1@example.org', '/riders/r1'],
    ['f-0001', '/units/F-0001'],
    ['77/2019', '/units/F-0001'],
    ['A-0001', '/units/A-0001'],
    ['green', '/bikes/b1'],
    ['hire', '/bikes/b3'],
  ])('leads from %j straight to what alone fits', async (q, path) => {
    const { owner } = await opened();
    expect(await sought(owner, q)).toBe(path);
  });

  it('lists what else fits, and says what to do where nothing does', async () => {
    const { owner } = await opened();
    const forks = await sought(owner, 'F-00');
    for (const tag of ['F-0001', 'F-0002', 'F-0003']) expect(forks).toContain(tag);
    expect(forks).not.toContain('A-0001');
    const none = await sought(owner, 'zebra crossing');
    expect(none).toContain('Nothing found.');
    expect(await owner.text('/find?q=zebra+crossing')).toContain('/customers/new?name=zebra+crossing');
    const odd = await owner.text(`/find?q=${encodeURIComponent('"><script>x</script>')}`);
    expect(odd).not.toContain('<script>');
    for (const q of ['', ' ', '%', '_', '\u0000', '\u{10ffff}', 'a'.repeat(5000)])
      expect((await owner.get(`/find?q=${encodeURIComponent(q)}`)).status, q).toBe(200);
  });
});

it('what is found follows every change: a new name, a corrected serial, what is void, who is forgotten', async () => {
  const { owner, store } = await opened();
  const row = {
    id: 'r1',
    name: 'Inês Costa',
    email: 'i@example.org',
    phone: null,
    language: 'en',
    addressConfirmed: false,
  };
  await store.write((tx) => putRider(tx, row, entry));
  expect(await sought(owner, 'ines')).toBe('/riders/r1');
  expect(await sought(owner, 'lanternby')).toContain('Nothing found.');
  await store.write(async (tx) => {
    const id = (await tx.handles.find('unit', 'F-0001'))!;
    const fact = (await tx.facts.current('unit', id))!;
    const body = { ...fact.body, tag: 'F-0900', serial: 'ZZ-1' };
    await replaceFact(tx, fact.id, { kind: 'unit', body }, entry);
    const boxed = (await tx.facts.current('unit', (await tx.handles.find('unit', 'A-0001'))!))!;
    await voidFact(tx, boxed.id, 'a slip', entry);
  });
  expect(await sought(owner, 'zz1')).toBe('/units/F-0900');
  // A printed card still says the former tag.
  expect(await sought(owner, 'F-0001')).toBe('/units/F-0900');
  expect(await sought(owner, '77/2019')).toContain('Nothing found.');
  expect(await sought(owner, 'A-0001')).toContain('Nothing found.');
  await store.write(async (tx) => forgetRider(tx, (await tx.handles.find('rider', 'r1'))!, NOW));
  expect(await sought(owner, 'ines')).toContain('Nothing found.');
  expect((await checkLedger(store)).faults).toEqual([]);
});

it('a store from before finds all of it once it is made anew, and the check says what lacks', async () => {
  const { store } = await opened();
  const before = await store.read((tx) => tx.findWords.differences());
  expect(before).toEqual([]);
  await store.write(async (tx) => {
    const id = (await tx.handles.find('rider', 'r1'))!;
    const contact = (await tx.contacts.find(id))!;
    await tx.contacts.remove(id);
    expect(await tx.findWords.find(['lanternby'], 9)).toEqual([]);
    await tx.contacts.put(contact);
    await tx.findWords.rebuild();
    expect(await tx.findWords.find(['lanternby'], 9)).toEqual([{ kind: 'rider', id }]);
    expect(await tx.findWords.find(['lanternby', 'otto'], 9)).toEqual([]);
    expect(await tx.findWords.differences()).toEqual([]);
  });
});

it('a mechanic finds the own fleet’s units and bikes, and no rider', async () => {
  const world = await teamWorld();
  const oak = await world.as('oak');
  expect(await sought(oak, 'F-0501')).toBe('/units/F-0501');
  for (const q of ['F-0601', 'F-0001', 'lanternby', 'r1@example.org'])
    expect(await sought(oak, q), q).toContain('Nothing found.');
  expect(await oak.text('/find?q=lanternby')).not.toContain('/customers/new');
});
