import { expect, it } from 'vitest';
import { addService } from '../../../src/flow/facts/enterFacts.js';
import { answerJob, askJob, findQuestion, listAdvised } from '../../../src/flow/facts/jobQuestions.js';
import { arrive, benchUnit, findStay } from '../../../src/flow/facts/jobs.js';
import { queueJobQuestion } from '../../../src/flow/mail/kinds/jobQuestion.js';
import { day } from '../../../src/units.js';
import { RiderWorld } from '../riderWorld.js';

const ASKED = {
  from: 'lower-leg',
  to: 'full',
  why: 'The rings are dark.',
  price: '190 €',
  day: day('2026-06-12'),
};

async function asked() {
  const world = await RiderWorld.open();
  const unitId = await world.flow.id('unit', 'F-1');
  const { store } = world;
  await store.write((tx) => arrive(tx, unitId, { price: '90 €' }, world.flow.entry));
  const id = await store.write((tx) => askJob(tx, unitId, ASKED, world.flow.entry));
  const answer = (said: 'yes' | 'not-now', seen = id) =>
    store.write((tx) => answerJob(tx, unitId, seen, { answer: said, by: 'rider' }, world.flow.entry));
  const jobNow = () => store.read(async (tx) => (await findStay(tx, unitId))?.job);
  const advised = () => store.read((tx) => listAdvised(tx, unitId));
  return { world, unitId, store, id, answer, jobNow, advised };
}

it('promises nothing before the yes, and the new price and day with it', async () => {
  const { world, answer, jobNow, advised } = await asked();
  expect(await jobNow()).toMatchObject({ price: '90 €', promisedFor: null });
  await answer('yes');
  expect(await jobNow()).toMatchObject({ price: '190 €', promisedFor: '2026-06-12' });
  expect(await advised()).toEqual([]);
  await world.flow.expectSound();
});

it('is answered once: a second press, and one on a question that was asked anew, change nothing', async () => {
  const { unitId, store, world, answer, jobNow, id } = await asked();
  const anew = await store.write((tx) => askJob(tx, unitId, { ...ASKED, price: '210 €' }, world.flow.entry));
  await expect(answer('yes', id)).rejects.toThrow();
  expect(await jobNow()).toMatchObject({ price: '90 €' });
  await answer('yes', anew);
  await expect(answer('not-now', anew)).rejects.toThrow();
  expect(await jobNow()).toMatchObject({ price: '210 €' });
  expect((await store.read((tx) => findQuestion(tx, unitId)))?.body.answer).toBe('yes');
});

it('stays advised after “not now”, in the next reminder too, until such a service is logged', async () => {
  const { world, unitId, store, answer, advised, jobNow } = await asked();
  await answer('not-now');
  expect(await jobNow()).toMatchObject({ price: '90 €' });
  expect(await advised()).toEqual([{ to: 'full', why: 'The rings are dark.', on: '2026-06-10' }]);
  await store.write((tx) => benchUnit(tx, unitId, false, world.flow.entry));
  world.now = '2026-06-20T09:00:00Z';
  const mails = await world.beat();
  const reminder = mails.find(({ to }) => to.address === 'r1@example.org')!;
  expect(reminder.text.replaceAll(/\s+/g, ' ')).toContain(
    'On 10 June we advised a full service for F-1: The rings are dark.',
  );
  const service = { unitId, serviceKind: 'full', on: day('2026-06-20'), by: 'here' as const };
  await store.write((tx) => addService(tx, { ...service, findings: null, note: null }, world.flow.entry));
  expect(await advised()).toEqual([]);
  await world.flow.expectSound();
});

it('is mailed though reminders were stopped, and to nobody whose address is not confirmed', async () => {
  const { world, unitId, store } = await asked();
  const riderId = await world.flow.id('rider', 'r1');
  await store.write((tx) => tx.contacts.setUnsubscribed(riderId, world.flow.entry.at));
  const { ids } = world.deps;
  expect(await store.write((tx) => queueJobQuestion(tx, unitId, world.flow.entry.at, ids))).toBe(true);
  expect((await world.beat()).map(({ subject }) => subject)).toContain('May we do more? Moss Hopper');
});

it('is asked of no unit that is not at the workshop', async () => {
  const world = await RiderWorld.open();
  const unitId = await world.flow.id('unit', 'F-1');
  await expect(world.store.write((tx) => askJob(tx, unitId, ASKED, world.flow.entry))).rejects.toThrow();
});
