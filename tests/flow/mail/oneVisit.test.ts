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

const plain = (text: string): string => text.replace(/\s+/g, ' ');

test('fork and shock of one bike are asked for on one day, by one button', async () => {
  const world = await RiderWorld.open({ document });
  const mail = await world.reminderTo('r1@example.org');
  expect(mail.text.match(/^Ask for a day:/gm)).toHaveLength(1);
  const link = linkOf(mail, 'ask');
  const shown = (await world.text(link)).replace(/\s+/g, ' ');
  expect(shown).toMatch(/On the same day, where there is room: (fork F-1|air shock A-1), /);
  const [, on = ''] = /name="day" value="([^"]+)"/.exec(await world.text(link)) ?? [];
  await world.post(link, { day: on });
  for (const tag of ['F-1', 'A-1'])
    expect(await world.lead(tag)).toMatchObject({ state: 'asked-for', day: on });
  expect(await world.lead('F-2')).toMatchObject({ state: 'open' });
  // The workshop hears of the visit once, with both jobs; and once that it is given up.
  const heard = async (): Promise<string[]> =>
    (await world.beat())
      .filter(({ to }) => to.address === 'bench@example.org')
      .map(({ text }) => plain(text));
  const [asked = '', ...more] = await heard();
  expect(more).toEqual([]);
  expect(asked).toContain('Rider 1 asks for');
  for (const tag of ['F-1', 'A-1']) expect(asked.match(new RegExp(`\\b${tag}\\b`, 'g'))).toHaveLength(1);
  expect(asked).toContain('On the same visit: ');
  await world.post(link, { action: 'withdraw' });
  for (const tag of ['F-1', 'A-1']) expect(await world.lead(tag)).toMatchObject({ state: 'open', day: null });
  const [withdrawn = '', ...rest] = await heard();
  expect(rest).toEqual([]);
  expect(withdrawn).toContain('Rider 1 no longer asks for');
  for (const tag of ['F-1', 'A-1']) expect(withdrawn).toContain(tag);
});
