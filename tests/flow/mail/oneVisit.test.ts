import { expect, test } from 'vitest';
import { DOCUMENT, linkOf, RiderWorld } from '../riderWorld.js';

/** A fork and a shock of one bike, both past their intervals. */
const document = {
  ...DOCUMENT,
  units: [
    ...DOCUMENT.units,
    {
      tag: 'A-1',
      unitKind: 'air-shock',
      history: { terrainHours: 52, movingHours: 52, asOf: '2026-06-01' },
    },
  ],
  fittings: [...DOCUMENT.fittings, { unit: 'A-1', bike: 'b1', from: '2026-01-01' }],
};

test('fork and shock of one bike are asked for on one day, by one button', async () => {
  const world = await RiderWorld.open({ document });
  const mail = await world.reminderTo('r1@example.org');
  expect(mail.text.match(/^Ask for a day:/gm)).toHaveLength(1);
  const link = linkOf(mail, 'ask');
  const [, on = ''] = /name="day" value="([^"]+)"/.exec(await world.text(link)) ?? [];
  await world.post(link, { day: on });
  for (const tag of ['F-1', 'A-1'])
    expect(await world.lead(tag)).toMatchObject({ state: 'asked-for', day: on });
  expect(await world.lead('F-2')).toMatchObject({ state: 'open' });
});
