/** A job at home on the rider's own page: what may be chosen, the way through it, and what is logged with a photograph. */
import { readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { forgetRider } from '../../../../src/flow/carry/forgetRider.js';
import { encodePhoto } from '../../../../src/photos/encodePhoto.js';
import { PARTS } from '../../../fixtures/filePorts.js';
import { phonePicture } from '../../../fixtures/photos.js';
import { DOCUMENT, followed, linkOf, RiderWorld, withWorkshop } from '../../../flow/riderWorld.js';
import { plain, signedIn } from '../../visitor.js';
import { cheapHash, NAME, PASSWORD } from '../../webWorld.js';

const MODEL = 'Sample fork T-150';
const homeJobs = [
  { unitKind: 'fork', serviceKind: 'lower-leg', model: MODEL, stopHere: 'a stud that turns\na wet disc' },
];
/** Invented, figures and all. */
const document = (rest: object = { homeJobs }) => ({
  ...withWorkshop({ phone: '+000 555 0100', ...rest }),
  units: DOCUMENT.units.map((unit) => ({ ...unit, model: MODEL })),
  sheets: [
    {
      unitKind: 'fork',
      scope: { model: MODEL, modelYear: null, unit: null },
      edition: 'Invented manual 3',
      values: { airMl: '11 ml invented', airTorque: '7 Nm invented' },
      typedBy: 'Bea Spanner',
      checkedBy: null,
    },
  ],
});

async function opened(of: object = document()) {
  const world = await RiderWorld.open({ document: of, makePhoto: encodePhoto });
  const own = linkOf(await world.reminderTo('r1@example.org'), 'page');
  const page = `${own}/units/F-1/lower-leg/home`;
  const send = async (fields: Record<string, string>, pictures: readonly Uint8Array[] = []) => {
    const body = new FormData();
    for (const [name, value] of Object.entries(fields)) body.append(name, value);
    for (const [i, bytes] of pictures.entries())
      body.append('photo', new File([new Uint8Array(bytes)], `rings-${i}.jpg`));
    return followed(world.app, await world.app.request(new URL(page).pathname, { method: 'POST', body }));
  };
  const facts = () => world.store.read((tx) => tx.facts.list('atHome'));
  return { world, own, page, send, facts };
}

const WELL = {
  say: 'log',
  on: '2026-06-10',
  foamRings: 'dark',
  stanchions: 'clean',
  damper: 'smooth',
  leaks: 'none',
};

it('is offered where the workshop allows it for the model, and nowhere else', async () => {
  const { world, own, page } = await opened();
  const bikes = await world.text(own);
  expect(bikes).toContain('/units/F-1/lower-leg/home');
  expect(plain(bikes)).toContain('I do it myself');
  expect(await world.text(`${own}/units/F-1`)).toContain('/units/F-1/lower-leg/home');
  expect(plain(await world.text(page))).toContain('You may do the lower-leg service at home');
  expect(plain(await world.text(page.replace('lower-leg', 'damper')))).toContain(
    'The workshop does this job itself',
  );
  // Another rider's unit is not there.
  expect(plain(await world.text(page.replace('F-1', 'F-2')))).toContain('No longer on this bike');

  const without = await opened(document({}));
  expect(await without.world.text(without.own)).not.toContain('/home');
  expect((await without.world.post(without.page, { say: 'choose' })).status).toBe(422);
  expect(await without.facts()).toEqual([]);
});

it('leads through the job in the order of the card: cautions first, typed figures, when to stop, no figure of its own', async () => {
  const { world, page } = await opened();
  const text = plain(await (await world.post(page, { say: 'choose' })).text());
  const order = [
    'The workshop gets your kit ready',
    'Pressure out first, slowly',
    'Do not ride: a crack',
    'a stud that turns',
    'a wet disc',
    'Before opening',
    'Inside',
    'back the foot nuts off',
    '11 ml invented',
    '7 Nm invented',
    'Invented manual 3',
    'Done? Say what you saw',
  ];
  let from = 0;
  for (const words of order) {
    const at = text.indexOf(words, from);
    expect(at, `${words} after ${text.slice(Math.max(0, from - 40), from)}`).toBeGreaterThanOrEqual(0);
    from = at;
  }
  expect(text).toContain('Stop here and bring it: stays compressed.');
  // Without a sheet not one oil, torque or pressure stands there.
  const { sheets: _, ...bare } = document();
  const other = await opened(bare);
  const guide = plain(await (await other.world.post(other.page, { say: 'choose' })).text());
  expect(guide).toContain('look them up in the maker’s manual');
  expect(guide).not.toMatch(/\d\s*(ml|Nm|psi|bar|wt|cSt)\b/i);
});

it('the workshop reads of it that the rider entered it, by no id', async () => {
  const { world, page, send } = await opened();
  await world.post(page, { say: 'choose' });
  await send(WELL, [await phonePicture()]);
  await world.store.write((tx) =>
    tx.accounts.add({ name: NAME, passwordHash: cheapHash(PASSWORD), role: 'owner' }),
  );
  const visitor = await signedIn(world.app);
  expect(plain(await visitor.text('/units/F-1'))).toContain('entered by the rider');
  const book = plain(await visitor.text('/units/F-1/book'));
  expect(book).toContain('by the rider, 10 June 2026');
  expect(book).not.toMatch(/by rider \w/);
});

it('four answers and a photograph log it as done at home; all four are needed', async () => {
  const { world, page, own, send, facts } = await opened();
  await world.post(page, { say: 'choose' });
  const { leaks: _, ...three } = WELL;
  const short = await send(three, [await phonePicture()]);
  expect(plain(await short.text())).toContain('Answer all four questions');
  expect((await facts())[0]!.body.step).toBe('chosen');

  const answer = plain(await (await send(WELL, [await phonePicture()])).text());
  expect(answer).toContain('The lower-leg service of 10 June is logged as done at home.');
  const [home] = await facts();
  const [service] = await world.store.read((tx) => tx.facts.list('service', { subject: home!.body.unitId }));
  expect(service!.body).toMatchObject({
    by: 'at-home',
    serviceKind: 'lower-leg',
    findings: { foamRings: 'dark', stanchions: 'clean', damper: 'smooth', leaks: 'none' },
  });
  expect(home!.body).toMatchObject({ step: 'done', serviceId: service!.entityId });
  const [photo] = await world.store.read((tx) => tx.facts.list('photo'));
  expect(photo!.body).toMatchObject({ serviceId: service!.entityId, takenBy: 'rider', shows: 'rings' });
  // It is nobody's to log twice, and what was sent is gone from where it lay while it came.
  expect((await send(WELL)).status).toBe(422);
  expect(readdirSync(PARTS)).toEqual([]);
  expect(await (await world.get(`${own}/units/F-1/photos/${photo!.entityId}`)).status).toBe(200);

  // Gone with its rider.
  const riderId = await world.flow.id('rider', 'r1');
  const forgotten = await world.store.write((tx) => forgetRider(tx, riderId, world.deps.clock.now()));
  expect(forgotten.photos).toContain(photo!.body.sha256);
  expect(await world.store.read((tx) => tx.facts.list('photo'))).toEqual([]);
});

it('says what the workshop hears of, and what must not be ridden', async () => {
  const soon = await opened();
  await soon.world.post(soon.page, { say: 'choose' });
  expect(plain(await (await soon.send({ ...WELL, damper: 'notchy' })).text())).toContain(
    'in doubt do not ride (Damper by hand: notchy). The workshop is told',
  );
  const stop = await opened();
  await stop.world.post(stop.page, { say: 'choose' });
  const text = plain(await (await stop.send({ ...WELL, 'crown cracked': 'yes' })).text());
  expect(text).toContain('Do not ride it (Crown and steerer: cracked).');
  expect(text).toContain('+000 555 0100');
  expect(plain(await stop.world.text(stop.own))).toContain('Stop riding: have it checked first.');
});

it('what is no picture, too much at once, a strange answer or a day to come logs nothing', async () => {
  const { world, page, send, facts } = await opened();
  await world.post(page, { say: 'choose' });
  const refused = await send(WELL, [new TextEncoder().encode('no picture')]);
  expect([refused.status, plain(await refused.text())]).toEqual([
    422,
    expect.stringContaining('it is no photograph in JPEG, PNG or WebP'),
  ]);
  expect((await send(WELL, [await phonePicture(), await phonePicture()])).status).toBe(422);
  expect((await send({ ...WELL, leaks: 'torrents' })).status).toBe(422);
  expect((await send({ ...WELL, on: '2026-06-11' })).status).toBe(422);
  expect((await send({ ...WELL, on: 'yesterday' })).status).toBe(422);
  expect((await facts()).map(({ body }) => body.step)).toEqual(['chosen']);
  expect(await world.store.read((tx) => tx.facts.list('photo'))).toEqual([]);
});

it('asks once, after three weeks, whether it is still to come; or the rider brings it after all', async () => {
  const { world, page, own } = await opened();
  await world.post(page, { say: 'choose' });
  expect(plain(await world.text(page))).not.toContain('Will you still do it?');
  world.now = '2026-07-01T09:00:00Z';
  expect(plain(await world.text(own))).toContain('Will you still do it at home?');
  expect(plain(await world.text(page))).toContain(
    'On 10 June you wanted to do it yourself. Will you still do it?',
  );
  await world.post(page, { say: 'still' });
  expect(plain(await world.text(page))).not.toContain('Will you still do it?');
  expect(plain(await (await world.post(page, { say: 'leave' })).text())).toContain('Ask for a day');
  expect((await world.post(page, { say: 'still' })).status).toBe(422);
});
