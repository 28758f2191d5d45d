/** What a rider says was done elsewhere. Common practice, no source: a large job restarts its clocks when the workshop agrees. */
import { expect, it } from 'vitest';
import { agreeToClaim } from '../../../src/flow/facts/enterFacts.js';
import { linkOf, RiderWorld } from '../riderWorld.js';

async function said(kind: string, by: string) {
  const world = await RiderWorld.open();
  const reminder = await world.reminderTo('r1@example.org');
  const answer = await world.post(linkOf(reminder, 'done'), { on: '2026-06-09', kind, by });
  const unitId = await world.flow.id('unit', 'F-1');
  const services = () => world.store.read((tx) => tx.facts.list('service', { subject: unitId }));
  const periodOf = async (serviceKind: string) =>
    (await world.store.read((tx) => tx.standings.listOf(unitId))).find(
      (one) => one.serviceKind === serviceKind,
    )?.periodId;
  const agree = (factId: string) =>
    world.store.write((tx) => agreeToClaim(tx, factId, 'known to us', world.flow.entry));
  return { answer, services, periodOf, agree };
}

it('a small job restarts its clock at once, and the book says who did it', async () => {
  const { answer, services, periodOf } = await said('lower-leg', 'at-home');
  expect(answer.status).toBe(200);
  const [service] = await services();
  expect(service!.body).toMatchObject({ by: 'at-home', restarts: ['lower-leg'] });
  expect(service!.body.isClaim).toBeUndefined();
  expect(await periodOf('lower-leg')).toBe(service!.entityId);
});

it('a full service by the rider’s word runs on until the workshop agrees, and then from its own day', async () => {
  const { answer, services, periodOf, agree } = await said('full', 'another-workshop');
  expect(answer.status).toBe(200);
  expect(await answer.text()).toContain('The workshop has to agree before its hours start again.');
  const [claim] = await services();
  expect(claim!.body).toMatchObject({ by: 'another-workshop', isClaim: true, restarts: [] });
  expect(await periodOf('full')).not.toBe(claim!.entityId);
  await agree(claim!.id);
  const [agreed] = await services();
  expect(agreed!.body).toMatchObject({
    on: '2026-06-09',
    restarts: ['lower-leg', 'air-spring', 'damper', 'full'],
  });
  expect(agreed!.body.isClaim).toBeUndefined();
  expect(await periodOf('full')).toBe(claim!.entityId);
  await expect(agree(agreed!.id)).rejects.toMatchObject({ code: 'refused' });
});

it('the same twice is refused in words, and adds nothing; another day is another service', async () => {
  const world = await RiderWorld.open();
  const link = linkOf(await world.reminderTo('r1@example.org'), 'done');
  const lowerLeg = { on: '2026-06-05', kind: 'lower-leg', by: 'another-workshop' };
  expect((await world.post(link, lowerLeg)).status).toBe(200);
  const facts = await world.facts();
  const again = await world.post(link, lowerLeg);
  expect(again.status).toBe(422);
  const page = await again.text();
  expect(page).toContain('is already in the book');
  // What was typed is still there, to be put right.
  expect(page).toContain('value="2026-06-05"');
  expect(await world.facts()).toBe(facts);
  expect((await world.post(link, { ...lowerLeg, on: '2026-06-08' })).status).toBe(200);
  expect(await world.facts()).toBeGreaterThan(facts);
});

it('a form that could not be taken leads to a page of its own address, which sends nothing when it is loaded again', async () => {
  const world = await RiderWorld.open();
  const { pathname } = new URL(linkOf(await world.reminderTo('r1@example.org'), 'done'));
  const sent = await world.app.request(pathname, {
    method: 'POST',
    body: new URLSearchParams({ on: '', kind: 'full' }),
  });
  expect([sent.status, sent.headers.get('location')]).toEqual([303, pathname]);
  const [cookie = ''] = sent.headers.getSetCookie().map((one) => one.split(';')[0]!);
  const shown = await world.app.request(pathname, { headers: { cookie } });
  expect(shown.status).toBe(422);
  expect(await shown.text()).toContain('value="full" selected');
  // Said once: the page after that is the page as it is.
  expect((await world.app.request(pathname)).status).toBe(200);
});
