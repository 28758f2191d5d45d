/** The after-crash list, and what ends *inspect*. Common practice, no source. */
import { expect, test } from 'vitest';
import { instant, MINUTE_MS } from '../../../src/units.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, NOW, type WebWorld, webWorld } from '../webWorld.js';

const GOOD = {
  ...{ outside: 'sound', crown: 'quiet', axle: 'sound', arch: 'sound', stanchions: 'clean' },
  ...{ bushings: 'none', fullTravel: 'reached', extends: 'extends', damper: 'smooth', airSpring: 'holds' },
};
const WHO = { by: 'Tove', on: '2026-06-10' };
const CRASH = '/units/F-0001/crash';

async function opened(language = 'en'): Promise<WebWorld & { visitor: Visitor }> {
  const document = { ...DOCUMENT, workshop: { ...DOCUMENT.workshop, language } };
  const world = await webWorld({ document });
  return { ...world, visitor: await signedIn(world.app) };
}

const stateOf = ({ store }: WebWorld, tag: string) =>
  store.read(async (tx) => {
    const unitId = (await tx.handles.find('unit', tag))!;
    return (await tx.standings.listOf(unitId)).find((one) => one.serviceKind === 'lower-leg')!.state;
  });
const factsOf = ({ store }: WebWorld) => store.read((tx) => tx.facts.list('inspection'));
const main = (markup: string): string => plain(/<main[\s\S]*<\/main>/.exec(markup)![0]);

test('the list ends the mark with the result ride, says who clears it, and that looking proves nothing', async () => {
  const world = await opened();
  const { visitor, setNow } = world;
  await visitor.send('/units/F-0001', '/units/F-0001/mark', { why: 'Hit a tree' });
  setNow(instant(NOW + MINUTE_MS));
  expect(plain(await visitor.text('/units/F-0001'))).toContain(
    'A “stop riding” mark ends with the after-crash list',
  );
  const form = main(await visitor.text(CRASH));
  expect(form).toContain('Stop riding, have it checked first: Hit a tree');
  expect(form).toContain('It proves nothing about hidden cracks');
  const done = await visitor.send(CRASH, CRASH, { ...GOOD, ...WHO, result: 'ride', serial: 'SN-77' });
  expect(done.headers.get('location')).toBe('/units/F-0001?done=cleared');
  expect(await stateOf(world, 'F-0001')).toBe('coming-up');
  const book = plain(await visitor.text('/units/F-0001'));
  expect(book).toContain('mark cleared: After-crash list: ride: the mark is cleared, Tove');
  expect(book).toContain(
    'looked at after a crash, ride: the mark is cleared, Tove; Outside: sound; Crown and steerer: quiet',
  );
});

test('with repair or replace the mark stays, and a unit without one gets it', async () => {
  const world = await opened();
  const { visitor, setNow } = world;
  for (const [i, result] of (['repair', 'replace'] as const).entries()) {
    setNow(instant(NOW + (i + 1) * MINUTE_MS));
    await visitor.send(CRASH, CRASH, { ...WHO, crown: 'cracked', result });
    expect(await stateOf(world, 'F-0001')).toBe('stop-riding');
  }
  // The second leaves the first one's mark: nobody is told twice.
  expect(await world.store.read((tx) => tx.facts.list('mark'))).toHaveLength(1);
  expect((await factsOf(world)).map(({ body }) => body.result)).toEqual(['repair', 'replace']);
});

test('nobody clears the mark with a part that nobody looked at, with one that does harm, or without a name', async () => {
  const world = await opened();
  const { visitor } = world;
  await visitor.send('/units/F-0001', '/units/F-0001/mark', { why: 'Hit a tree' });
  const { axle: _, ...unseen } = GOOD;
  for (const [fields, status, why] of [
    [{ ...unseen, ...WHO, result: 'ride' }, 409, 'nobody looked at axle and dropouts'],
    [{ ...GOOD, ...WHO, crown: 'loose', result: 'ride' }, 409, 'crown and steerer: loose'],
    [{ ...GOOD, ...WHO }, 422, 'Choose a result.'],
    [{ ...GOOD, ...WHO, by: ' ', result: 'ride' }, 422, 'Say who looked at it.'],
    [{ ...GOOD, ...WHO, on: '2026-06-11', result: 'ride' }, 422, 'not later than today'],
  ] as const) {
    const response = await visitor.send(CRASH, CRASH, fields);
    expect(response.status).toBe(status);
    const text = await response.text();
    expect(plain(text)).toContain(why);
    // What was chosen stays.
    expect(text).toMatch(/name="outside" value="sound" checked/);
  }
  expect(await stateOf(world, 'F-0001')).toBe('stop-riding');
  expect(await factsOf(world)).toEqual([]);
});

test('an unknown history ends with hours as of that day, and its clocks count on from there', async () => {
  const world = await opened();
  const { visitor } = world;
  const path = '/units/F-0003/inspect';
  expect(await stateOf(world, 'F-0003')).toBe('history-unknown');
  const known = /name="known" value="([^"]+)"/.exec(await visitor.text(path))![1]!;
  const seen = { ...WHO, outside: 'dirty', fullTravel: 'reached', foamRings: 'honey', known };
  const missing = await visitor.send(path, path, { ...seen, from: 'hours', terrain: '30' });
  expect(missing.status).toBe(422);
  expect(plain(await missing.text())).toContain('Type both hours');
  const done = await visitor.send(path, path, { ...seen, from: 'hours', terrain: '30,5', moving: '28' });
  expect(done.headers.get('location')).toBe('/units/F-0003?done=hours');
  expect(await stateOf(world, 'F-0003')).toBe('in-time');
  const unit = await world.store.read(async (tx) =>
    tx.facts.current('unit', (await tx.handles.find('unit', 'F-0003'))!),
  );
  expect(unit!.body.history).toEqual({ terrainHours: 30.5, movingHours: 28, asOf: '2026-06-10' });
  // A history that is known is not put right by looking.
  const again = await visitor.send(path, path, { ...seen, from: 'hours', terrain: '1', moving: '1' });
  expect(again.status).toBe(422);
  expect(await factsOf(world)).toHaveLength(1);
});

test('it ends with a service too: the form for it comes next', async () => {
  const { visitor } = await opened();
  const path = '/units/F-0003/inspect';
  const done = await visitor.send(path, path, { ...WHO, outside: 'sound', from: 'service' });
  expect(done.headers.get('location')).toBe('/units/F-0003/service?from=unit');
});

test.each([
  ['en', /safe/i],
  ['pt', /segur(?!a o ar)/i],
] as const)('in %s forms and sheets never say that a unit can be trusted', async (language, never) => {
  const world = await opened(language);
  const { visitor } = world;
  for (const [path, fields] of [
    ['/units/F-0003/inspect', { ...WHO, outside: 'sound', serial: 'SN-<b>9</b>', from: 'nothing' }],
    [CRASH, { ...GOOD, ...WHO, result: 'ride' }],
  ] as const) {
    expect(main(await visitor.text(path))).not.toMatch(never);
    expect((await visitor.send(path, path, fields)).status).toBe(303);
  }
  for (const { id, body } of await factsOf(world)) {
    const tag = body.cause === 'crash' ? 'F-0001' : 'F-0003';
    const sheet = await visitor.text(`/units/${tag}/looked/${id}`);
    expect(main(sheet)).not.toMatch(never);
    expect(sheet).toContain('<body class="on-book">');
    if (language === 'en' && body.cause === 'history') {
      expect(main(sheet)).toContain('Second-hand check: F-0003');
      expect(main(sheet)).toContain('Serial number as it stands on the unit SN-<b>9</b>');
      expect(main(sheet)).toContain('Outside sound Crown and steerer not looked at');
      expect(main(sheet)).toContain('It says nothing about hidden cracks');
    }
  }
});

test('a sheet is of its own unit, and a line that is none leads to the line', async () => {
  const world = await opened();
  const { visitor } = world;
  await visitor.send(CRASH, CRASH, { ...GOOD, ...WHO, result: 'ride' });
  const [fact] = await factsOf(world);
  expect((await visitor.get(`/units/F-0002/looked/${fact!.id}`)).status).toBe(404);
  const [fitting] = await world.store.read((tx) => tx.facts.list('fitting'));
  const led = await visitor.get(`/units/F-0001/looked/${fitting!.id}`);
  expect(led.headers.get('location')).toBe(`/units/F-0001/lines/${fitting!.id}`);
});
