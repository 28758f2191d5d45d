import { expect, it } from 'vitest';
import { forgetRider } from '../../../src/flow/carry/forgetRider.js';
import { getTodayWork } from '../../../src/flow/due/todayWork.js';
import { byRider } from '../../../src/flow/entry.js';
import { answerJob, askJob } from '../../../src/flow/facts/jobQuestions.js';
import { arrive } from '../../../src/flow/facts/jobs.js';
import { comeBack, getHirePage, sendOut } from '../../../src/flow/fittings/hire.js';
import { putOn } from '../../../src/flow/fittings/putOn.js';
import { sayAfterService } from '../../../src/flow/own/afterService.js';
import { day, instant, isoTime } from '../../../src/units.js';
import { DOCUMENT, RiderWorld } from '../riderWorld.js';

const document = {
  ...DOCUMENT,
  fleets: [{ id: 't1', name: 'Hire bikes' }],
  bikes: [...DOCUMENT.bikes, { id: 'h1', fleet: 't1', name: 'Hire bike 1', type: 'trail' }],
};

async function opened() {
  const world = await RiderWorld.open({ document });
  const { store } = world;
  const { entry } = world.flow;
  const work = () => store.read((tx) => getTodayWork(tx, entry.at));
  return { world, store, entry, work };
}

it('tells of a job that waits for a yes, until somebody answered', async () => {
  const { world, store, entry, work } = await opened();
  const unitId = await world.flow.id('unit', 'F-1');
  await store.write((tx) => arrive(tx, unitId, {}, entry));
  const asked = { from: null, to: 'full', why: 'Dark rings.', price: null, day: null };
  const id = await store.write((tx) => askJob(tx, unitId, asked, entry));
  expect((await work()).askedJobs.map(({ one }) => one.unit.tag)).toEqual(['F-1']);
  await store.write((tx) => answerJob(tx, unitId, id, { answer: 'not-now', by: 'phone' }, entry));
  expect((await work()).askedJobs).toEqual([]);
});

it('a complaint stays with the rider who made it, though the unit is another rider’s now, and goes with forget', async () => {
  const { world, store, entry, work } = await opened();
  const [unitId, r1] = [await world.flow.id('unit', 'F-1'), await world.flow.id('rider', 'r1')];
  const said = { unitId, serviceKind: 'lower-leg', on: day('2026-06-05') };
  await store.write((tx) => sayAfterService(tx, said, 'it knocks', { by: byRider(r1), at: entry.at }));
  const bikeId = await world.flow.id('bike', 'b2');
  await store.write((tx) =>
    putOn(tx, { unitId, bikeId, at: isoTime(instant(entry.at - 3_600_000)) }, false, entry),
  );
  expect((await work()).complaints).toMatchObject([{ tag: 'F-1', rider: 'Rider 1', phone: '+000 555 0101' }]);
  await store.write((tx) => forgetRider(tx, r1, entry.at));
  expect((await work()).complaints).toEqual([]);
});

it('tells of a unit on loan that is late, until it is off that bike', async () => {
  const { world, store, entry, work } = await opened();
  const [unitId, bikeId] = [await world.flow.id('unit', 'F-1'), await world.flow.id('bike', 'b2')];
  const before = { ...entry, at: instant(entry.at - 5 * 86_400_000) };
  const lend = { unitId, bikeId, at: isoTime(before.at), loanUntil: day('2026-06-10') };
  await store.write((tx) => putOn(tx, lend, true, before));
  // On its last day it is not late yet.
  expect((await work()).lateLoans).toEqual([]);
  const next = { ...entry, at: instant(entry.at + 86_400_000) };
  const late = () => store.read(async (tx) => (await getTodayWork(tx, next.at)).lateLoans);
  expect(await late()).toEqual([{ tag: 'F-1', bike: 'Brine', until: '2026-06-10' }]);
  await store.write(async (tx) =>
    putOn(tx, { unitId, bikeId: await world.flow.id('bike', 'b1'), at: isoTime(entry.at) }, true, next),
  );
  expect(await late()).toEqual([]);
});

it('tells of a hire bike that is late, until it is back', async () => {
  const { store, entry, work } = await opened();
  const before = { ...entry, at: instant(entry.at - 5 * 86_400_000) };
  const bikes = () => store.read(async (tx) => (await getHirePage(tx, 't1', entry.at)).bikes);
  const words = { hoursADay: 2, ground: 'typical', note: null } as const;
  const [bike] = await bikes();
  await store.write((tx) => sendOut(tx, bike!, { ...words, until: day('2026-06-10') }, before));
  // On its last day it is not late yet.
  expect((await work()).lateHires).toEqual([]);
  const next = instant(entry.at + 86_400_000);
  expect((await store.read((tx) => getTodayWork(tx, next))).lateHires).toEqual([
    { bike: 'Hire bike 1', fleet: 't1', until: '2026-06-10' },
  ]);
  const [out] = await bikes();
  const back = { ...words, daysRidden: 2, hoursNote: 'hire', harm: new Map<string, string>() };
  await store.write((tx) => comeBack(tx, out!.out!.id, back, { ...entry, at: next }));
  expect((await store.read((tx) => getTodayWork(tx, next))).lateHires).toEqual([]);
});
