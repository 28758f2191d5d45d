/** A fork that changes between air and coil keeps its book. Common practice, no source. */
import { expect, test } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, webWorld } from '../webWorld.js';

const EMPTY = {
  ...{ warrantyEnd: '', asOf: '', modelYear: '', travelMm: '', terrainHours: '', movingHours: '' },
};
const PAGE = '/units/F-0001';

test('from air to coil and back: clocks follow the spring, the book stays, and its lines can be put right', async () => {
  const services = [
    { unit: 'F-0001', serviceKind: 'air-spring', on: '2026-04-01', findings: { airSpring: 'loses-air' } },
  ];
  const { app, store } = await webWorld({ document: { ...DOCUMENT, services } });
  const visitor = await signedIn(app);
  const kinds = () =>
    store.read(async (tx) =>
      (await tx.standings.listOf((await tx.handles.find('unit', 'F-0001'))!))
        .map((one) => one.serviceKind)
        .sort(),
    );
  const changeTo = async (spring: string): Promise<void> => {
    const known = /name="known" value="([^"]+)"/.exec(await visitor.text(PAGE))![1]!;
    const fields = { known, spring, model: 'Sample fork T-150', serial: '', history: 'new', factor: '1' };
    const done = await visitor.send(PAGE, `${PAGE}/change`, { ...fields, ...EMPTY });
    expect(done.headers.get('location')).toBe(`${PAGE}?done=changed`);
  };
  const hoursSince = async (serviceKind: string) =>
    store.read(
      async (tx) =>
        (await tx.standings.listOf((await tx.handles.find('unit', 'F-0001'))!)).find(
          (one) => one.serviceKind === serviceKind,
        )!.terrainMs,
    );
  expect(await kinds()).toEqual(['air-spring', 'damper', 'full', 'lower-leg']);
  const before = await hoursSince('lower-leg');

  await changeTo('coil');
  expect(await kinds()).toEqual(['damper', 'full', 'lower-leg']);
  // What the air-spring service restarted, it restarted.
  expect(await hoursSince('lower-leg')).toBe(before);
  const page = plain(await visitor.text(PAGE));
  expect(page).toMatch(/1 April air-spring service restarted: lower-leg service and air-spring service/);
  expect(page).toContain('Air spring by hand: loses air');
  const looks = plain(await visitor.text(`${PAGE}/service`));
  expect(looks).toContain('Coil spring');
  expect(looks).not.toContain('air-spring service');
  const none = await visitor.send(PAGE, `${PAGE}/service`, {
    kind: 'air-spring',
    on: '2026-06-10',
    by: 'here',
  });
  expect(none.status).toBe(422);

  const [line] = await store.read((tx) => tx.facts.list('service'));
  const at = `${PAGE}/lines/${line!.id}`;
  const right = await visitor.send(at, `${at}/day`, { on: '2026-04-02', why: 'From the bill' });
  expect(right.headers.get('location')).toBe(`${PAGE}?done=corrected`);
  expect((await checkLedger(store)).ok).toBe(true);

  await changeTo('air');
  expect(await kinds()).toEqual(['air-spring', 'damper', 'full', 'lower-leg']);
  expect(await hoursSince('air-spring')).toBe(await hoursSince('lower-leg'));
  expect((await checkLedger(store)).ok).toBe(true);
});
