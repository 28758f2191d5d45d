/** Fittings as a timeline: what goes on where something is, and moments that are moved with what was swapped then. */
import { expect, test } from 'vitest';
import { readDocument } from '../../../src/cli/importSchema.js';
import type { Fact } from '../../../src/core/ledger/facts.js';
import { listDifferences } from '../../../src/flow/carry/checkLedger.js';
import { importLedger } from '../../../src/flow/carry/importLedger.js';
import { swapUnits } from '../../../src/flow/fittings/fittings.js';
import { withMovedRides } from '../../../src/flow/fittings/movedRides.js';
import { listAlong, moveFitting } from '../../../src/flow/fittings/moveFitting.js';
import { putOn, takeOffAgain } from '../../../src/flow/fittings/putOn.js';
import type { Store, Tx } from '../../../src/ports/store.js';
import { instant, type Moment, moment } from '../../../src/units.js';
import { openTestStore } from '../../fixtures/storePlace.js';

const NOW = instant(Date.parse('2026-06-10T12:00:00Z'));
const ENTRY = { by: 'test', at: NOW };
const unit = (tag: string) => ({ tag, unitKind: 'fork', history: 'new' });
const fitting = (tag: string, bike: string) => ({ unit: tag, bike, from: '2026-01-01', to: null });
/** Invented: an hour on each bike each first of a month. */
const DOCUMENT = {
  workshop: { id: 'w', name: 'Bench', timeZone: 'Europe/Lisbon', openDays: ['mon'] },
  bikes: ['b1', 'b2', 'b3'].map((id) => ({ id, name: id, type: 'trail' })),
  units: ['F-1', 'F-2', 'F-3'].map(unit),
  fittings: [fitting('F-1', 'b1'), fitting('F-2', 'b2')],
  hours: ['b1', 'b2', 'b3'].flatMap((bike) =>
    ['2026-02-01', '2026-03-01', '2026-04-01', '2026-05-01'].map((on) => ({ bike, on, minutes: 60 })),
  ),
};

interface World {
  readonly store: Store;
  readonly write: <T>(work: (tx: Tx, id: (name: string) => string) => Promise<T>) => Promise<T>;
  readonly hours: () => Promise<Record<string, number>>;
}

async function opened(): Promise<World> {
  const store = await openTestStore(NOW);
  const read = readDocument(DOCUMENT);
  if ('wrong' in read) throw new Error(JSON.stringify(read.wrong));
  const ids = await store.write(async (tx) => {
    await importLedger(tx, read.document, ENTRY);
    const found = new Map<string, string>();
    for (const kind of ['bike', 'unit'] as const)
      for (const [id, handle] of await tx.handles.all(kind)) found.set(handle, id);
    return found;
  });
  const id = (name: string): string => ids.get(name)!;
  return {
    store,
    write: (work) => store.write((tx) => work(tx, id)),
    hours: () =>
      store.read(async (tx) => {
        expect(await listDifferences(tx)).toEqual([]);
        const sums: Record<string, number> = {};
        for (const tag of ['F-1', 'F-2', 'F-3'])
          sums[tag] = ((await tx.standings.listOf(id(tag)))[0]?.movingS ?? 0) / 3600;
        return sums;
      }),
  };
}

const at = (text: string): Moment => moment(text);

test('what goes on where something is takes it off, stays as long as it would have, and is taken back by one act', async () => {
  const { store, write, hours } = await opened();
  expect(await hours()).toEqual({ 'F-1': 4, 'F-2': 4, 'F-3': 0 });
  const put = (id: (name: string) => string) => ({
    unitId: id('F-3'),
    bikeId: id('b1'),
    at: at('2026-02-15'),
  });
  const { rides } = await write((tx, id) =>
    withMovedRides(tx, { unitIds: [id('F-3')], bikeIds: [id('b1')] }, () => putOn(tx, put(id), false, ENTRY)),
  );
  expect(rides.map(({ from, to }) => [from, to])).toEqual([
    ['F-1', 'F-3'],
    ['F-1', 'F-3'],
    ['F-1', 'F-3'],
  ]);
  expect(await hours()).toEqual({ 'F-1': 1, 'F-2': 4, 'F-3': 3 });
  await write((tx, id) => takeOffAgain(tx, put(id), { ...ENTRY, why: 'slip' }));
  expect(await hours()).toEqual({ 'F-1': 4, 'F-2': 4, 'F-3': 0 });
  await store.close();
});

test('a unit that goes on a bare bike leaves the one that it was on', async () => {
  const { store, write, hours } = await opened();
  await write((tx, id) =>
    putOn(tx, { unitId: id('F-2'), bikeId: id('b3'), at: at('2026-03-15T10:00:00Z') }, false, ENTRY),
  );
  // Two rides on each bike; those of bike b2 since count for none.
  expect(await hours()).toEqual({ 'F-1': 4, 'F-2': 4, 'F-3': 0 });
  await expect(
    write((tx, id) => putOn(tx, { unitId: id('F-2'), bikeId: id('b3'), at: at('2026-05-02') }, false, ENTRY)),
  ).rejects.toThrow();
  await write((tx, id) =>
    takeOffAgain(
      tx,
      { unitId: id('F-2'), bikeId: id('b3'), at: at('2026-03-15T10:00:00Z') },
      { ...ENTRY, why: 'slip' },
    ),
  );
  expect(await hours()).toEqual({ 'F-1': 4, 'F-2': 4, 'F-3': 0 });
  await store.close();
});

test.each([
  ['earlier', '2026-02-15T09:00:00Z', { 'F-1': 4, 'F-2': 4, 'F-3': 0 }, ['2026-03-01', '2026-03-01']],
  ['later', '2026-04-15T09:00:00Z', { 'F-1': 4, 'F-2': 4, 'F-3': 0 }, ['2026-04-01', '2026-04-01']],
])('a swap of two bikes moves as one: %s', async (_, when, sums, days) => {
  const { store, write, hours } = await opened();
  await write((tx, id) => swapUnits(tx, [id('F-1'), id('F-2')], at('2026-03-15'), ENTRY));
  const { rides } = await write(async (tx, id) => {
    const begun = (await tx.facts.list('fitting', { subject: id('F-1') })).find(
      ({ body }) => body.from === '2026-03-15',
    )!;
    expect([...(await listAlong(tx, begun)).values()].flat()).toEqual([id('F-2')]);
    return withMovedRides(tx, { unitIds: [id('F-1'), id('F-2')] }, () =>
      moveFitting(
        tx,
        begun,
        { span: { from: at(when), to: begun.body.to }, isAlone: false },
        { ...ENTRY, why: 'the clock' },
      ),
    );
  });
  expect(rides.map(({ start }) => new Date(start + 3_600_000).toISOString().slice(0, 10))).toEqual(days);
  // Each bike has one ride a month: the sums stay, and no ride falls on none.
  expect(rides.every(({ to }) => to !== null)).toBe(true);
  expect(await hours()).toEqual(sums);
  await store.close();
});

test('one that moves alone leaves rides to no unit, and never overlaps', async () => {
  const { store, write, hours } = await opened();
  await write((tx, id) =>
    putOn(tx, { unitId: id('F-3'), bikeId: id('b1'), at: at('2026-02-15') }, false, ENTRY),
  );
  const move = (from: string, isAlone: boolean) =>
    write(async (tx, id) => {
      const [begun] = (await tx.facts.list('fitting', { subject: id('F-3') })) as Fact<'fitting'>[];
      const span = { from: at(from), to: begun!.body.to };
      await moveFitting(tx, begun!, { span, isAlone }, { ...ENTRY, why: 'late' });
    });
  await expect(move('2026-01-15', true)).rejects.toThrow();
  await move('2026-03-15', true);
  expect(await hours()).toEqual({ 'F-1': 1, 'F-2': 4, 'F-3': 2 });
  await store.close();
});
