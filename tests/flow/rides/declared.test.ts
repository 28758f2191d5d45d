/** A rider who will never send a file: declared hours count, are told as such, and give way to files. */
import { expect, it } from 'vitest';
import { getBikeHours } from '../../../src/flow/due/bikeHours.js';
import { addDeclared } from '../../../src/flow/facts/enterFacts.js';
import { getDeclared, sayStillSo } from '../../../src/flow/own/declare.js';
import { day, hoursOfSeconds, instant } from '../../../src/units.js';
import { rideFile } from '../flowWorld.js';
import { DOCUMENT, RiderWorld } from '../riderWorld.js';

const NEW = {
  ...DOCUMENT,
  units: DOCUMENT.units.map((unit) => ({ ...unit, history: 'new' })),
};
const FOUR_HOURS = {
  ...{ hoursAWeek: 4, ground: 'typical' as const, months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] },
  ...{ from: day('2026-01-01'), to: null },
};

async function declared(now: string) {
  const world = await RiderWorld.open({ now, document: NEW });
  const bikeId = await world.flow.id('bike', 'b1');
  await world.store.write((tx) => addDeclared(tx, { bikeId, ...FOUR_HOURS }, world.flow.entry));
  return { world, bikeId };
}
const hoursBySource = async (world: RiderWorld, bikeId: string) => {
  const sources = await world.store.read((tx) => getBikeHours(tx, bikeId, instant(Date.parse(world.now))));
  return [hoursOfSeconds(sources.recorded.movingS), hoursOfSeconds(sources.declared.movingS)];
};

it('counts, is foreseen, comes up in time, and the mail says what it stands on', async () => {
  const { world } = await declared('2026-01-02T09:00:00Z');
  const firstDay = await world.flow.due('F-1');
  // 50 terrain hours at 4 a week are 12 to 13 weeks: the range holds that, and is honest about the rest.
  expect(firstDay.likely.p10! < '2026-03-29' && '2026-03-29' < firstDay.likely.p90!).toBe(true);
  // One half at the start, and the rest within weeks.
  let told: string | null = null;
  for (let on = day('2026-02-20'); told === null && on < '2026-04-20'; ) {
    world.now = `${on}T09:00:00Z`;
    told = (await world.beat()).find((mail) => mail.to.address === 'r1@example.org')?.text ?? null;
    on = day(new Date(Date.parse(on) + 86_400_000).toISOString().slice(0, 10));
  }
  const { declaredHours, terrainHoursSince, knownUpTo, expectedHoursSince } = await world.flow.due('F-1');
  expect(declaredHours).toBe(terrainHoursSince);
  // Before 50 hours are reached, and not a month before.
  expect(terrainHoursSince).toBeGreaterThan(34);
  expect(terrainHoursSince).toBeLessThan(50);
  // Nothing is waited for: no file is expected.
  expect([knownUpTo, expectedHoursSince]).toEqual([world.now.slice(0, 10), 0]);
  expect(told).toMatch(/Declared by you:? +all of them; no ride file came/);
  expect(told).not.toContain('Is that still right?');
  await world.flow.expectSound();
});

it('is asked again after a quarter, with a mail that goes anyway, until somebody says so', async () => {
  const { world, bikeId } = await declared('2026-01-02T09:00:00Z');
  const asked = async () =>
    (await world.store.read((tx) => getDeclared(tx, bikeId, world.flow.entry.at))).isToAsk;
  world.now = '2026-04-02T09:00:00Z';
  expect(await asked()).toBe(false);
  world.now = '2026-04-03T09:00:00Z';
  expect(await asked()).toBe(true);
  const mails = (await world.beat()).filter((mail) => mail.to.address === 'r1@example.org');
  expect(mails).toHaveLength(1);
  expect(mails[0]!.text.replaceAll(/\s+/g, ' ')).toContain(
    'You told us about Moss Hopper: about 4 h a week, mostly typical ground, all year. Is that still right?',
  );
  await world.store.write((tx) => sayStillSo(tx, bikeId, world.flow.entry));
  expect(await asked()).toBe(false);
  const [fact] = await world.store.read((tx) => tx.facts.list('declared', { subject: bikeId }));
  expect(fact).toMatchObject({ body: { ...FOUR_HOURS, saidOn: '2026-04-03' }, why: 'still so' });
  world.now = '2026-07-03T09:00:00Z';
  expect(await asked()).toBe(true);
  await world.flow.expectSound();
});

it('ends with the first file, is not added to rest days, and comes back when files stay away', async () => {
  const { world, bikeId } = await declared('2026-03-05T09:00:00Z');
  // 63 days of January, February and four of March: nine weeks.
  expect(await hoursBySource(world, bikeId)).toEqual([0, 36]);
  await world.flow.take(rideFile('2026-02-26T09:00:00Z', 60), { name: 'a.fit', rider: 'r1' });
  // Of 56 days before the first file eight weeks are left.
  expect(await hoursBySource(world, bikeId)).toEqual([1, 32]);
  expect(await world.flow.due('F-1')).toMatchObject({ movingHoursSince: 33, declaredHours: 32 });
  await world.flow.expectSound();
  // A newcomer's files may come once a month: for six weeks nothing is added.
  world.now = '2026-04-16T09:00:00Z';
  expect(await hoursBySource(world, bikeId)).toEqual([1, 32]);
  const waiting = await world.flow.due('F-1');
  expect(waiting.expectedHoursSince).toBeGreaterThan(0);
  world.now = '2026-04-17T09:00:00Z';
  // 42 days after the last day of the hand-over, 5 March, all of them count again.
  expect(await hoursBySource(world, bikeId)).toEqual([1, 56]);
  await world.beat();
  expect(await world.flow.due('F-1')).toMatchObject({ movingHoursSince: 57, expectedHoursSince: 0 });
  await world.flow.expectSound();
  // A file of a rider's other bike says that files come.
  await world.flow.take(rideFile('2026-04-16T09:00:00Z', 60), { name: 'b.fit', rider: 'r1', bike: 'b1b' });
  expect(await hoursBySource(world, bikeId)).toEqual([1, 32]);
  await world.flow.expectSound();
});
