/** Whom to call, what would go and what waits: read on the page, and each act done by its form. */
import { expect, test } from 'vitest';
import { mailWriter } from '../../../src/mail/writer.js';
import { createApp } from '../../../src/web/app.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, webWorld } from '../webWorld.js';

/** Invented: the forks of a rider with an address and of one without are over their interval. */
const past = (remindersFrom: string | null) => ({
  ...DOCUMENT,
  workshop: { ...DOCUMENT.workshop, remindersFrom },
  riders: [
    { ...DOCUMENT.riders[0]!, phone: '+000 555 0101' },
    { id: 'r2', name: 'Otto Fennimoss', email: null, phone: '+000 555 0102' },
  ],
  hours: ['b1', 'b2'].flatMap((bike) =>
    Array.from({ length: 12 }, (_, i) => ({
      ...{ bike, minutes: 330, ground: 'typical' },
      on: `2026-05-${String(10 + i).padStart(2, '0')}`,
    })),
  ),
});

async function opened(remindersFrom: string | null) {
  const world = await webWorld({ document: past(remindersFrom) });
  const visitor = await signedIn(createApp({ ...world.deps, writer: mailWriter }));
  return { ...world, visitor, said: async () => plain(await visitor.text('/reminders')) };
}

test('before reminders begin it shows what would go, each mail to read, and leaves a unit out by “told”', async () => {
  const { visitor, said } = await opened(null);
  expect(await said()).toContain('Reminders have not begun: nothing goes to riders but “stop riding”.');
  expect(await said()).toMatch(
    /1 rider would get a mail .*Pia Lanternby F-0001 lower-leg service, over interval/,
  );
  const letter = await visitor.text('/reminders/r1');
  expect(letter).toContain('lang="en"');
  expect(plain(letter)).toContain('(terrain hours): the fork on Green trail bike is overdue');
  expect(letter).not.toContain('https://');
  const told = await visitor.send('/reminders', '/reminders/F-0001/told', { kind: 'lower-leg' });
  expect(told.headers.get('location')).toBe('/reminders');
  expect(await said()).not.toContain('F-0001 lower-leg service, over interval');
});

test('its owner begins and lets rest again; calls stand there with phone and reason until somebody says told', async () => {
  const { visitor, said } = await opened(null);
  await visitor.send('/reminders', '/reminders', { begin: 'yes' });
  expect(await said()).toContain('Reminders go since 10 June.');
  const call = /Otto Fennimoss .*\+000 555 0102 .*F-0002/;
  expect(await said()).toMatch(/1 call to make/);
  expect(await said()).toMatch(call);
  await visitor.send('/reminders', '/reminders/F-0002/told', { kind: 'lower-leg' });
  expect(await said()).not.toMatch(call);
  await visitor.send('/reminders', '/reminders', { begin: 'no' });
  expect(await said()).toContain('Reminders have not begun');
});

test('what waits behind the most of a day stands there by name', async () => {
  const many = Array.from({ length: 25 }, (_, i) => i + 1);
  const document = {
    ...DOCUMENT,
    riders: many.map((n) => ({
      id: `r${n}`,
      name: `Rider ${n}`,
      email: `r${n}@example.org`,
      addressConfirmed: true,
    })),
    bikes: many.map((n) => ({ id: `b${n}`, rider: `r${n}`, name: `Bike ${n}`, type: 'trail' })),
    units: many.map((n) => ({
      ...{ tag: `F-${n}`, unitKind: 'fork' },
      history: { terrainHours: 52, movingHours: 52, asOf: '2026-06-01' },
    })),
    fittings: many.map((n) => ({ unit: `F-${n}`, bike: `b${n}`, from: '2026-01-01' })),
    hours: [],
  };
  const { app } = await webWorld({ document });
  const said = plain(await (await signedIn(app)).text('/reminders'));
  expect(said).toContain('5 reminders wait At most 20 reminders go out a day');
  expect(said.match(/Rider \d+/g)).toHaveLength(5);
});
