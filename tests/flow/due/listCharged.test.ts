import { expect, test } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { listAllCharged, listCharged } from '../../../src/flow/due/listCharged.js';
import { getUnitLedger } from '../../../src/flow/unitLedger.js';
import type { Tx } from '../../../src/ports/store.js';
import { DOCUMENT, NOW, TODAY, webWorld } from '../../web/webWorld.js';

/** Invented: a ride a day on each of two bikes, and one fork that was swapped between them and lay in its box. */
const document = {
  ...DOCUMENT,
  fittings: [
    { unit: 'F-0001', bike: 'b1', from: '2026-03-01', to: '2026-04-01' },
    { unit: 'F-0001', bike: 'b2', from: '2026-04-03', to: '2026-05-01' },
    { unit: 'F-0001', bike: 'b1', from: '2026-05-01', to: '2026-06-05' },
  ],
  hours: ['b1', 'b2'].flatMap((bike) =>
    Array.from({ length: 120 }, (_, i) => ({ bike, on: addDays(TODAY, -1 - i), minutes: 30 + i })),
  ),
};

const ledgerOf = async (tx: Tx) =>
  getUnitLedger(tx, (await tx.handles.find('unit', 'F-0001'))!, 'Europe/Lisbon');

test('the latest rides are the last of all that were charged, over swaps and the box', async () => {
  const { store } = await webWorld({ document });
  await store.read(async (tx) => {
    const ledger = await ledgerOf(tx);
    const { charged: all } = await listAllCharged(tx, ledger, NOW);
    expect(all).toHaveLength(31 + 28 + 35);
    for (const most of [1, 12, 35, 40, 90, 500]) {
      const latest = await listCharged(tx, ledger, NOW, most);
      expect(latest.map(({ ride, movingS, terrainMs }) => [ride.id, movingS, terrainMs])).toEqual(
        all
          .slice(-most)
          .reverse()
          .map(({ rideId, movingS, terrainMs }) => [rideId, movingS, terrainMs]),
      );
    }
  });
});

test('hours since a moment are those that were charged from it on', async () => {
  const { store } = await webWorld({ document });
  await store.read(async (tx) => {
    const ledger = await ledgerOf(tx);
    const { charged: all } = await listAllCharged(tx, ledger, NOW);
    for (const since of [all[10]!.start, all[31]!.start, all.at(-1)!.start, NOW])
      expect((await listAllCharged(tx, ledger, NOW, since)).charged).toEqual(
        all.filter(({ start }) => start >= since),
      );
  });
});
