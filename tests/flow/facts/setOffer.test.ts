import { expect, test } from 'vitest';
import { setOffer } from '../../../src/flow/facts/setOffer.js';
import { findWorkshop } from '../../../src/flow/settings.js';
import { RiderWorld, withWorkshop } from '../riderWorld.js';

const offer = {
  unitKind: 'fork',
  serviceKind: 'lower-leg',
  price: '60 crowns',
  turnaround: 'two days',
} as const;

test('mails say the price and how long the bike stands, as typed', async () => {
  const world = await RiderWorld.open({ document: withWorkshop({ offers: [offer] }) });
  const { text } = await world.reminderTo('r1@example.org');
  expect(text).toContain('Price: 60 crowns');
  expect(text).toContain('Takes: two days');
});

test('one job’s words stand in the place of those before, and empty ones are gone', async () => {
  const world = await RiderWorld.open({ document: withWorkshop({ offers: [offer] }) });
  const put = (price: string | null, turnaround: string | null) =>
    world.store.write((tx) => setOffer(tx, { ...offer, price, turnaround }, world.flow.entry));
  const offers = async () => (await world.store.read(findWorkshop))?.body.offers;
  await put('70 crowns', null);
  expect(await offers()).toEqual([{ ...offer, price: '70 crowns', turnaround: null }]);
  await put(null, null);
  expect(await offers()).toEqual([]);
  // A file that says nothing of them takes nothing away.
  await put('80 crowns', null);
  await world.flow.import(withWorkshop({ name: 'Another name' }));
  expect(await offers()).toHaveLength(1);
});
