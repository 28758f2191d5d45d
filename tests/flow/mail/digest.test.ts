/** The workshop's list and the riders' mails through the store: one line a unit where a crash mark stands. */
import { expect, it } from 'vitest';
import { markUnit } from '../../../src/flow/facts/enterFacts.js';
import { DOCUMENT, NOW, RiderWorld } from '../riderWorld.js';

const plain = (text: string): string => text.replace(/\s+/g, ' ');

/** Invented: F-3 came new, was ridden by nobody, and its twelve months are up on 1 June 2026. */
const boxed = {
  ...DOCUMENT,
  units: [...DOCUMENT.units, { tag: 'F-3', unitKind: 'fork', history: 'new' }],
  bikes: [...DOCUMENT.bikes, { id: 'b3', rider: null, name: 'Spare', type: 'trail' }],
  fittings: [...DOCUMENT.fittings, { unit: 'F-3', bike: 'b3', from: '2025-06-01' }],
};

it('says of a unit without hours that its months are up, and since when', async () => {
  const world = await RiderWorld.open({ now: NOW, document: boxed });
  const { text } = await world.reminderTo('bench@example.org');
  expect(plain(text)).toContain(
    'F-3 fork: lower-leg service Due: terrain 0 of 50 h, moving 0 of 75 h 12 months reached on 1 June',
  );
  expect(plain(text)).toContain('terrain hours reached on 1 June');
});

it('tells of a unit with a crash mark once to workshop and rider, not once a service kind', async () => {
  const world = await RiderWorld.open({ now: NOW });
  await world.beat();
  const unitId = await world.flow.id('unit', 'F-1');
  await world.store.write((tx) => markUnit(tx, unitId, true, 'creaks', world.flow.entry));
  const mails = await world.beat();
  expect(mails.map((mail) => mail.to.address).sort()).toEqual(['bench@example.org', 'r1@example.org']);
  for (const { to, text } of mails) {
    expect(text.match(/\bF-1\b/g), to.address).toHaveLength(1);
    expect(plain(text)).toMatch(
      to.address === 'bench@example.org'
        ? /stop riding; have the fork \(F-1\) checked/
        : /Please do not ride/,
    );
  }
});
