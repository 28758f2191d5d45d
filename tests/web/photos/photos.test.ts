/** Photographs at the bench: sent, seen by whoever may see the unit, kept with their service, taken back and forgotten. */
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { exportRider } from '../../../src/flow/carry/exportRider.js';
import { forgetAll } from '../../../src/flow/carry/forgetAll.js';
import { originalsIn, removeOriginal } from '../../../src/inbox/originals.js';
import { partsIn } from '../../../src/inbox/parts.js';
import { encodePhoto } from '../../../src/photos/encodePhoto.js';
import { createApp } from '../../../src/web/app.js';
import { phonePicture, ringsPicture } from '../../fixtures/photos.js';
import { scratchFolder } from '../../fixtures/program.js';
import { plain, signedIn, Visitor } from '../visitor.js';
import { webWorld } from '../webWorld.js';

const PATH = '/units/F-0001/photos';

async function photoWorld() {
  const world = await webWorld();
  const folder = scratchFolder();
  const files = originalsIn(join(folder, 'photos'));
  const photos = { maker: { make: encodePhoto }, files, parts: partsIn(join(folder, 'parts')) };
  const app = createApp({ ...world.deps, photos });
  const visitor = await signedIn(app);
  const token = await visitor.tokenOn('/units/F-0001');
  const send = (
    fields: Readonly<Record<string, string>>,
    pictures: readonly (readonly [string, Uint8Array])[],
    headers: Readonly<Record<string, string>> = {},
  ): Promise<Response> => {
    const body = new FormData();
    for (const [name, value] of Object.entries({ token, from: 'unit', shows: 'rings', ...fields }))
      body.append(name, value);
    for (const [name, bytes] of pictures) body.append('photo', new File([new Uint8Array(bytes)], name));
    return Promise.resolve(
      app.request(`http://localhost${PATH}`, {
        method: 'POST',
        headers: { origin: 'http://localhost', cookie: visitor.cookie, ...headers },
        body,
      }),
    );
  };
  const kept = (): string[] =>
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((one) => one.isFile())
      .map(({ name }) => name);
  const facts = () => world.store.read((tx) => tx.facts.list('photo'));
  return { ...world, app, visitor, token, send, kept, facts, files, folder };
}

const RINGS = async () => [['rings.jpg', await ringsPicture()]] as const;

it('a photograph is kept as two files, shown on the unit’s page and served as a picture alone', async () => {
  const { send, visitor, kept, facts } = await photoWorld();
  const answer = await send({}, [['me.jpg', await phonePicture()]]);
  expect([answer.status, answer.headers.get('location')]).toEqual([303, '/units/F-0001?done=photo']);
  expect(kept()).toHaveLength(2);
  const [fact] = await facts();
  expect(fact!.body).toMatchObject({
    shows: 'rings',
    serviceId: null,
    showsPerson: false,
    takenBy: 'workshop',
    width: 600,
    height: 800,
  });
  const path = `${PATH}/${fact!.entityId}`;
  expect(await visitor.text('/units/F-0001')).toContain(`<img src="${path}/small"`);
  const picture = await visitor.get(path);
  expect(Object.fromEntries(picture.headers)).toMatchObject({
    'content-type': 'image/jpeg',
    'x-content-type-options': 'nosniff',
    'cache-control': 'private, no-cache',
    'cross-origin-resource-policy': 'same-origin',
    'content-security-policy': expect.stringContaining("default-src 'none'"),
  });
  expect(Buffer.from(await picture.arrayBuffer()).toString('latin1')).not.toContain('Invented phone');
  expect((await visitor.get(`${path}/small`)).status).toBe(200);
});

it('nobody else sees it: no stranger, and no address of another unit', async () => {
  const { send, visitor, facts, app } = await photoWorld();
  await send({}, await RINGS());
  const id = (await facts())[0]!.entityId;
  expect((await new Visitor(app).get(`${PATH}/${id}`)).status).toBe(303);
  expect((await visitor.get(`/units/F-0002/photos/${id}`)).status).toBe(404);
  expect((await visitor.get(`${PATH}/none`)).status).toBe(404);
});

it('it waits for its service, and stands in the book with it', async () => {
  const { send, visitor, facts, store } = await photoWorld();
  await send({ from: 'service' }, await RINGS());
  expect(await visitor.text('/units/F-0001/service')).toContain('<img src="/units/F-0001/photos/');
  await visitor.send('/units/F-0001', '/units/F-0001/service', {
    kind: 'lower-leg',
    on: '2026-06-10',
    by: 'here',
  });
  const [service] = await store.read((tx) => tx.facts.list('service'));
  expect((await facts())[0]!.body.serviceId).toBe(service!.entityId);
  expect(await visitor.text('/units/F-0001/service')).not.toContain('<img');
  const book = (await visitor.text('/units/F-0001')).split('<dl class="facts book">')[1]!;
  expect(book).toContain('<ul class="photos">');
  for (const page of ['book', 'card'])
    expect(await visitor.text(`/units/F-0001/${page}`)).toContain('<ul class="photos">');
});

it('one of a service that is taken back waits for another', async () => {
  const { send, visitor, store } = await photoWorld();
  await send({}, await RINGS());
  await visitor.send('/units/F-0001', '/units/F-0001/service', {
    kind: 'lower-leg',
    on: '2026-06-10',
    by: 'here',
  });
  const [service] = await store.read((tx) => tx.facts.list('service'));
  await visitor.send('/units/F-0001', `/units/F-0001/lines/${service!.id}/void`, {
    voidWhy: 'the wrong fork',
  });
  expect(await visitor.text('/units/F-0001/service')).toContain('<img src="/units/F-0001/photos/');
});

describe('what is refused is said in words, and nothing is kept', () => {
  it.each([
    ['a drawing', 'x.svg', async () => Buffer.from('<svg onload="alert(1)"/>'), 'no photograph in JPEG'],
    [
      'a picture of a phone',
      'x.heic',
      async () => Buffer.from('\0\0\0\x18ftypheic\0\0', 'latin1'),
      'most compatible',
    ],
    ['half a picture', 'x.jpg', async () => (await ringsPicture()).subarray(0, 900), 'damaged'],
    [
      'a name that is a script',
      '<script>x</script>.jpg',
      async () => Buffer.from('x'),
      '<script>x</script>.jpg',
    ],
    ['a name that is a path', '../../../etc/x.jpg', async () => Buffer.from('x'), '../../../etc/x.jpg'],
    ['more than 20 MB', 'x.jpg', async () => Buffer.alloc(20_000_001, 1), 'larger than 20 MB'],
  ])('%s', async (_, name, bytes, words) => {
    const { send, kept, facts } = await photoWorld();
    const answer = await send({}, [
      ['good.jpg', await ringsPicture()],
      [name, await bytes()],
    ]);
    expect(answer.status).toBe(422);
    const page = await answer.text();
    expect(plain(page)).toContain(words);
    expect(page).not.toContain('<script>x');
    expect(await facts()).toEqual([]);
    expect(kept().length).toBeLessThanOrEqual(2);
  });

  it('none, too many at once, and too many of one unit', async () => {
    const { send, facts } = await photoWorld();
    expect(plain(await (await send({}, [])).text())).toContain('Choose a photograph first.');
    const seven = Array.from({ length: 7 }, (_, i) => [`${i}.jpg`, Buffer.from('x')] as const);
    expect(plain(await (await send({}, seven)).text())).toContain('Too many at once');
    const six = await Promise.all(
      Array.from(
        { length: 6 },
        async (_, i) => [`${i}.jpg`, await ringsPicture({ width: 100 + i })] as const,
      ),
    );
    await send({}, six);
    await send({}, six);
    const more = await send({}, six.slice(0, 1));
    expect([
      more.status,
      plain(await more.text()).includes('There are already 12 photographs of it.'),
    ]).toEqual([409, true]);
    expect(await facts()).toHaveLength(12);
  });

  it('one from another site, without its token, or of nobody', async () => {
    const { send, facts, app } = await photoWorld();
    const rings = await RINGS();
    expect((await send({}, rings, { origin: 'https://elsewhere.example' })).status).toBe(403);
    expect((await send({ token: 'made-up' }, rings)).status).toBe(403);
    expect((await send({}, rings, { cookie: '' })).headers.get('location')).toContain('/sign-in');
    const elsewhere = await app.request('http://localhost/units/F-0001/service', {
      method: 'POST',
      headers: { origin: 'http://localhost' },
      body: new FormData(),
    });
    expect(elsewhere.status).toBe(403);
    expect(await facts()).toEqual([]);
  });
});

it('one that is taken back is deleted, but not while another is the same picture', async () => {
  const { send, visitor, kept, facts } = await photoWorld();
  await send({}, await RINGS());
  await send({}, await RINGS());
  const [one, other] = await facts();
  const remove = (id: string) => visitor.send('/units/F-0001', `${PATH}/${id}/remove`, { from: 'unit' });
  await remove(one!.entityId);
  expect(kept()).toHaveLength(2);
  await remove(other!.entityId);
  expect(kept()).toEqual([]);
  expect((await visitor.get(`${PATH}/${other!.entityId}`)).status).toBe(404);
});

it('one that shows a person goes with its rider, others stay with the unit', async () => {
  const { send, store, facts, files, kept, deps, folder } = await photoWorld();
  await send({ showsPerson: 'yes' }, [['me.jpg', await phonePicture()]]);
  await send({}, await RINGS());
  const riderId = (await store.read((tx) => tx.handles.find('rider', 'r1')))!;
  expect(await store.read((tx) => exportRider(tx, riderId))).toMatchObject({
    photographs: [{ unit: 'F-0001', shows: 'rings', file: expect.stringMatching(/^photos\//) }, {}],
  });
  const forgetting = {
    note: async () => {},
    list: async () => [],
    hasFolder: () => false,
    remove: async ({ photos }: { readonly photos: readonly string[] }) => {
      for (const hash of photos) await removeOriginal(join(folder, 'photos'), hash);
    },
  };
  await forgetAll({ store, clock: deps.clock, forgetting }, riderId);
  expect((await facts()).map(({ body }) => body.showsPerson)).toEqual([false]);
  expect(kept()).toHaveLength(2);
  expect((await checkLedger(store, files)).ok).toBe(true);
});

it('the check names a photograph whose file is gone', async () => {
  const { send, store, files, folder, facts } = await photoWorld();
  await send({}, await RINGS());
  expect((await checkLedger(store, files)).faults).toEqual([]);
  rmSync(join(folder, 'photos'), { recursive: true });
  const { id, body } = (await facts())[0]!;
  expect((await checkLedger(store, files)).faults).toEqual(
    [body.sha256, body.small].map(
      (sha256) => `photograph ${id}: photos/${sha256.slice(0, 2)}/${sha256} is missing`,
    ),
  );
});
