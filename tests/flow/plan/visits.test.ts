/** One visit for the jobs of a unit, and the larger job in place of a smaller one. Common practice, no source. */
import { expect, test } from 'vitest';
import { DOCUMENT, linkOf, RiderWorld } from '../riderWorld.js';

const after = (serviceKind: string, terrainHours: number) => ({
  ...{ unitKind: 'fork', serviceKind, terrainHours, months: null, movingHoursCeiling: null },
  scope: { fleet: null, model: null, unit: null },
});
const open = (...intervals: object[]) => RiderWorld.open({ document: { ...DOCUMENT, intervals } });

test('jobs due together of which none includes the other are one lead, and their minutes add up', async () => {
  const world = await open(after('air-spring', 20), after('damper', 20));
  const reminder = await world.reminderTo('r1@example.org');
  const leads = await world.store.read((tx) => tx.leads.list());
  const own = leads.filter(({ unitId }) => unitId === leads[0]!.unitId);
  expect(own).toHaveLength(1);
  // An air-spring service takes 90 minutes and a damper service 120.
  expect(own[0]).toMatchObject({ serviceKind: 'air-spring', beside: ['damper'], benchMinutes: 210 });
  const page = await world.text(linkOf(reminder, 'ask'));
  expect(page).toContain('air-spring service and damper service');
});

test('where the larger job takes the place, mail and page say why in hours, and the smaller can be chosen', async () => {
  const world = await open(after('full', 64));
  const reminder = await world.reminderTo('r1@example.org');
  const text = reminder.text.replace(/\s+/g, ' ');
  expect(text).toMatch(/We suggest the full service instead: .* h of 64 h left by then \(terrain hours\)\./);
  const link = linkOf(reminder, 'ask');
  const page = await world.text(link);
  expect(page).toMatch(/of 64.h left by then/);
  const [day] = /name="day" value="([\d-]+)"/.exec(page)!.slice(1);
  await world.post(link, { day: day!, job: 'smaller' });
  expect(await world.lead('F-1')).toMatchObject({
    state: 'asked-for',
    serviceKind: 'lower-leg',
    benchMinutes: 60,
  });
  await world.beat();
  expect(await world.lead('F-1')).toMatchObject({ state: 'asked-for', serviceKind: 'lower-leg' });
});
