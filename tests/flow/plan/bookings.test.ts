/** Bookings as facts: every step stands in the ledger, and what lists show is rebuilt from it. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { isLive } from '../../../src/core/plan/leads.js';
import { AlreadyReplaced, ServiceError } from '../../../src/errors.js';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { addService } from '../../../src/flow/facts/enterFacts.js';
import { listSubjects } from '../../../src/flow/mail/listSubjects.js';
import { findBooking } from '../../../src/flow/plan/bookings.js';
import {
  bookLead,
  bookVisit,
  declineLead,
  finishLead,
  giveUpDay,
  missBooking,
  settleLeads,
  withdrawBooking,
} from '../../../src/flow/plan/leads.js';
import { day } from '../../../src/units.js';
import { booked } from '../../fixtures/booked.js';
import { runs } from '../../fixtures/runs.js';
import { DOCUMENT, NOW, TODAY, type WebWorld, webWorld } from '../../web/webWorld.js';

const WITH_SHOCK = {
  ...DOCUMENT,
  fittings: [...DOCUMENT.fittings, { unit: 'A-0001', bike: 'b1', from: '2026-01-01', to: null }],
};
const entry = { by: 'owner', at: NOW };
const unitOf = ({ store }: WebWorld, tag: string) =>
  store.read(async (tx) => (await tx.handles.find('unit', tag))!);
const faultsOf = async ({ store }: WebWorld) => (await checkLedger(store)).faults;

test('the steps of a booking stand in the ledger, and its rows follow from the last', async () => {
  const world = await webWorld();
  const { store, deps } = world;
  const [first] = await booked(store, 'F-0001', '2026-06-16', { at: NOW, as: 'asked-for' });
  const { id } = first!;
  await store.write((tx) => bookLead(tx, id, day('2026-06-17'), entry, deps.ids));
  const { leads } = await store.write((tx) => declineLead(tx, id, entry, deps.ids));
  expect(leads).toMatchObject([{ state: 'declined', step: 'declined', day: '2026-06-17' }]);
  expect(leads[0]!.offered).toHaveLength(3);
  expect(leads[0]!.offered).not.toContain('2026-06-17');
  const steps = await store.read((tx) => tx.facts.versions('booking', id));
  expect(steps.map(({ body }) => [body.step, body.day])).toEqual([
    ['asked-for', '2026-06-16'],
    ['booked', '2026-06-17'],
    ['declined', '2026-06-17'],
  ]);
  // Declined for a day, the job stands open again at once.
  const unitId = await unitOf(world, 'F-0001');
  const states = await store.read(async (tx) =>
    (await tx.leads.listOfUnit(unitId)).map(({ state }) => state),
  );
  expect(states.sort()).toEqual(['declined', 'open']);
  expect(await faultsOf(world)).toEqual([]);
});

test('a changed row is found by the check, and so is one that stands on no fact', async () => {
  const world = await webWorld();
  const [row] = await booked(world.store, 'F-0001', '2026-06-16', { at: NOW });
  await world.store.write((tx) => tx.leads.putBooking(row!.id, [{ ...row!, day: day('2026-06-17') }]));
  expect(await faultsOf(world)).toEqual([`booking ${row!.id} of unit ${row!.unitId} differs from its facts`]);
  await world.store.write((tx) => tx.leads.putBooking(row!.id, []));
  expect(await faultsOf(world)).toEqual([`booking ${row!.id} of unit ${row!.unitId} is missing`]);
});

test('one day for one bike: its units are one booking, and each is done by itself', async () => {
  const world = await webWorld({ document: WITH_SHOCK });
  const { store, deps } = world;
  const [fork, shock] = [await unitOf(world, 'F-0001'), await unitOf(world, 'A-0001')];
  await booked(store, 'F-0001', TODAY, { at: NOW });
  const visit = { units: [{ unitId: shock, jobs: ['air-sleeve'] }], day: TODAY };
  const { leads } = await store.write((tx) => bookVisit(tx, visit, entry, deps.ids));
  expect(new Set(leads.map(({ id }) => id)).size).toBe(1);
  expect(leads.map(({ unitId }) => unitId).sort()).toEqual([fork, shock].sort());
  const statesNow = () =>
    store.read(async (tx) => {
      const rows = await tx.leads.listOf(leads[0]!.id);
      return [fork, shock].map((unitId) => rows.find((one) => one.unitId === unitId)?.state);
    });
  const serve = async (unitId: string, serviceKind: string) => {
    const service = { unitId, serviceKind, on: TODAY, by: 'here', findings: null, note: null } as const;
    await store.write((tx) => addService(tx, service, entry));
    await store.write(async (tx) =>
      settleLeads(tx, await listSubjects(tx, NOW, 'Europe/Lisbon'), NOW, deps.ids),
    );
  };
  await serve(fork, 'lower-leg');
  expect(await statesNow()).toEqual(['done', 'booked']);
  await serve(shock, 'air-sleeve');
  expect(await statesNow()).toEqual(['done', 'done']);
  expect(await store.read((tx) => findBooking(tx, leads[0]!.id))).toMatchObject({ body: { step: 'done' } });
  expect(await faultsOf(world)).toEqual([]);
});

test('a unit that is given up leaves the day of the others as it is', async () => {
  const world = await webWorld({ document: WITH_SHOCK });
  const { store, deps } = world;
  await booked(store, 'F-0001', TODAY, { at: NOW });
  const [row] = await booked(store, 'A-0001', TODAY, { at: NOW, jobs: ['air-sleeve'] });
  const fork = await unitOf(world, 'F-0001');
  await store.write((tx) => giveUpDay(tx, fork, entry, deps.ids));
  const rows = await store.read((tx) => tx.leads.listOf(row!.id));
  expect(rows).toMatchObject([{ state: 'booked', unitId: await unitOf(world, 'A-0001') }]);
  const [given] = await store.read((tx) => tx.leads.listOfUnit(fork));
  expect(given).toMatchObject({ state: 'declined', step: 'not-wanted', day: null });
  expect(await faultsOf(world)).toEqual([]);
});

test('two who change one booking collide, and nothing is half done', async () => {
  const world = await webWorld();
  const { store, deps } = world;
  const [row] = await booked(store, 'F-0001', '2026-06-16', { at: NOW });
  const seen = row!.factId!;
  await store.write((tx) => bookLead(tx, row!.id, day('2026-06-17'), entry, deps.ids, { seen }));
  const late = store.write((tx) => declineLead(tx, row!.id, entry, deps.ids, { seen }));
  await expect(late).rejects.toBeInstanceOf(AlreadyReplaced);
  expect(await store.read((tx) => tx.leads.listOf(row!.id))).toMatchObject([
    { state: 'booked', day: '2026-06-17' },
  ]);
});

/** Whatever is done in whatever order: no unit has two days, and the rows are what the facts say. */
test('any steps in any order leave a ledger that rebuilds, and no unit with two days', async () => {
  const act = fc.record({
    what: fc.constantFrom('ask', 'book', 'both', 'move', 'decline', 'miss', 'withdraw', 'done', 'give up'),
    tag: fc.constantFrom('F-0001', 'A-0001', 'F-0002'),
    ahead: fc.integer({ min: 0, max: 20 }),
    pick: fc.nat(5),
  });
  await fc.assert(
    fc.asyncProperty(fc.array(act, { minLength: 3, maxLength: 12 }), async (acts) => {
      const world = await webWorld({ document: WITH_SHOCK });
      const { store, deps } = world;
      for (const { what, tag, ahead, pick } of acts) {
        const on = addDays(TODAY, ahead);
        const unitId = await unitOf(world, tag);
        const rows = await store.read((tx) => tx.leads.list());
        const row = rows[pick % Math.max(1, rows.length)];
        const job = (await store.read((tx) => tx.standings.listOf(unitId)))[0]!.serviceKind;
        const work = store.write(async (tx) => {
          const units = [{ unitId, jobs: [job] }];
          if (what === 'book') await bookVisit(tx, { units, day: on }, entry, deps.ids, { evenIfFull: true });
          if (what === 'give up') await giveUpDay(tx, unitId, entry, deps.ids);
          if (!row) return;
          if (what === 'move') await bookLead(tx, row.id, on, entry, deps.ids, { evenIfFull: true });
          if (what === 'decline') await declineLead(tx, row.id, entry, deps.ids);
          if (what === 'miss') await missBooking(tx, row.id, entry, deps.ids);
          if (what === 'withdraw') await withdrawBooking(tx, row.id, entry, deps.ids);
          if (what === 'done') await finishLead(tx, row.id, entry, deps.ids);
        });
        await work.catch((error: unknown) => {
          if (!(error instanceof ServiceError)) throw error;
        });
        if (what === 'ask' && !rows.some((one) => one.unitId === unitId && isLive(one)))
          await booked(store, tag, on, { at: NOW, as: 'asked-for', jobs: [job] });
      }
      const live = (await store.read((tx) => tx.leads.list())).filter(isLive).map(({ unitId }) => unitId);
      expect(new Set(live).size).toBe(live.length);
      expect(await faultsOf(world)).toEqual([]);
    }),
    { numRuns: runs(8, 3) },
  );
});
