/** Whether all is well after a service: asked once two rides have come since, answered once, told to the workshop. */
import { expect, it } from 'vitest';
import { forgetRider } from '../../../../src/flow/carry/forgetRider.js';
import { addService } from '../../../../src/flow/facts/enterFacts.js';
import { arrive } from '../../../../src/flow/facts/jobs.js';
import { getComebacks } from '../../../../src/flow/plan/comebacks.js';
import { day } from '../../../../src/units.js';
import { rideFile } from '../../../flow/flowWorld.js';
import { linkOf, RiderWorld } from '../../../flow/riderWorld.js';
import { plain } from '../../visitor.js';

const ASKED = 'Is all well since the service?';

async function serviced(by: 'here' | 'another-workshop' = 'here') {
  const world = await RiderWorld.open();
  const home = linkOf(await world.reminderTo('r1@example.org'), 'page');
  const unitId = await world.flow.id('unit', 'F-1');
  const on = day('2026-06-02');
  await world.store.write((tx) =>
    addService(
      tx,
      { unitId, serviceKind: 'lower-leg', on, by, findings: null, note: null },
      world.flow.entry,
    ),
  );
  const ride = (date: string) => world.flow.take(rideFile(`2026-06-0${date}T10:00:00Z`, 60), { bike: 'b1' });
  const page = `${home}/units/F-1`;
  const complaints = async () =>
    (await world.store.read((tx) => getComebacks(tx, world.deps.clock.now()))).complaints;
  return { world, unitId, ride, page, complaints };
}

it('is asked once two rides have come since, not before, and a rider may say that all is well', async () => {
  const { world, ride, page, complaints } = await serviced();
  // One of before the service tells nothing of it.
  await ride('1');
  await ride('3');
  expect(plain(await world.text(page))).not.toContain(ASKED);
  expect((await world.post(page, { say: 'well' })).status).toBe(422);
  await ride('4');
  expect(plain(await world.text(page))).toContain(
    'After the lower-leg service of 2 June you rode at least twice.',
  );
  expect(plain(await (await world.post(page, { say: 'well' })).text())).toContain(
    'The workshop has been told.',
  );
  expect(plain(await world.text(page))).not.toContain(ASKED);
  expect(await complaints()).toEqual([]);
  await world.flow.expectSound();
});

it('what is wrong stands in the workshop’s list with whom to call, until the unit comes', async () => {
  const { world, unitId, ride, page, complaints } = await serviced();
  await ride('3');
  await ride('4');
  expect((await world.post(page, { say: 'wrong', what: ' ' })).status).toBe(422);
  const said = await world.post(page, { say: 'wrong', what: 'it weeps at the left seal' });
  expect(plain(await said.text())).toContain('If in doubt, do not ride.');
  expect(await complaints()).toMatchObject([
    { tag: 'F-1', heard: { what: 'it weeps at the left seal', isWell: false }, phone: '+000 555 0101' },
  ]);
  await world.store.write((tx) => arrive(tx, unitId, {}, world.flow.entry));
  expect(await complaints()).toEqual([]);
  await world.flow.expectSound();
});

it('what another workshop did is not asked about', async () => {
  const { world, ride, page } = await serviced('another-workshop');
  await ride('3');
  await ride('4');
  expect(plain(await world.text(page))).not.toContain(ASKED);
});

it('what a rider said who was forgotten stands in no list', async () => {
  const { world, ride, page, complaints } = await serviced();
  await ride('3');
  await ride('4');
  await world.post(page, { say: 'wrong', what: 'it weeps at the left seal' });
  expect(await complaints()).toHaveLength(1);
  const riderId = await world.flow.id('rider', 'r1');
  await world.store.write((tx) => forgetRider(tx, riderId, world.deps.clock.now()));
  expect(await complaints()).toEqual([]);
});
