/** An invitation into a quiet week is taken back on its page, until its mail has gone. */
import { expect, test } from 'vitest';
import { refreshAllDue } from '../../../src/flow/due/refreshDue.js';
import { queueNotices } from '../../../src/flow/mail/queueNotices.js';
import { instant } from '../../../src/units.js';
import { manyForks } from '../../fixtures/manyForks.js';
import { plain, signedIn } from '../visitor.js';
import { webWorld } from '../webWorld.js';

/** A Wednesday in a week of winter. */
const NOW = instant(Date.parse('2026-11-18T09:00:00Z'));
const PATH = '/load/quiet';
const WEEK = '2026-11-23';

/** Invented: two forks that fall due in winter. */
const forks = manyForks({
  ...{ count: 2, openDays: ['tue', 'wed', 'thu', 'fri'], timeZone: 'Europe/Lisbon', fittedOn: '2025-01-01' },
  history: () => ({ terrainHours: 1, movingHours: 1, asOf: '2026-06-01' }),
});
const document = {
  ...forks,
  units: forks.units.map(({ tag, unitKind }) => ({ tag, unitKind, history: 'new' })),
  services: ['F-1', 'F-2'].map((unit) => ({ unit, serviceKind: 'full', on: '2026-01-15' })),
};

/** The fact that each take-back button on the page names, by its unit. */
const buttonsOn = (page: string): Map<string, string> =>
  new Map(
    [
      ...page.matchAll(/name="fact" value="([^"]+)"><button aria-label="Take back the invitation: ([^"]+)"/g),
    ].map(([, fact, unit]) => [unit!, fact!]),
  );

async function invited() {
  const world = await webWorld({ document });
  world.setNow(NOW);
  const clock = { now: () => NOW };
  await refreshAllDue({ store: world.store, clock });
  const visitor = await signedIn(world.app);
  const ticks = { week: WEEK, 'unit F-1': 'yes', 'unit F-2': 'yes' };
  expect((await visitor.send(PATH, PATH, ticks)).status).toBe(303);
  const hand = () => queueNotices({ store: world.store, clock, ids: world.deps.ids });
  return { ...world, visitor, hand };
}

test('the button takes one back, and the unit can be ticked again', async () => {
  const { visitor } = await invited();
  const buttons = buttonsOn(await visitor.text(PATH));
  expect([...buttons.keys()]).toEqual(['F-1', 'F-2']);
  const answer = await visitor.send(PATH, PATH, { week: WEEK, fact: buttons.get('F-1')! });
  const page = await visitor.text(answer.headers.get('location')!);
  expect(plain(page)).toContain('The invitation is taken back. No mail goes out for it.');
  expect([...buttonsOn(page).keys()]).toEqual(['F-2']);
  expect(page).toContain('name="unit F-1"');
  expect(page).not.toContain('name="unit F-2"');
});

test('it is there while the mail waits, and gone once the mail has gone; a page kept open is refused', async () => {
  const { visitor, store, hand } = await invited();
  await hand();
  const before = await visitor.text(PATH);
  const waiting = buttonsOn(before);
  expect([...waiting.keys()]).toEqual(['F-1', 'F-2']);
  await store.write(async (tx) => {
    const mails = (await tx.mails.list()).filter(({ mail }) => mail === 'invitation');
    const riderId = await tx.handles.find('rider', 'r1');
    const [mine] = mails.filter(({ to }) => to === riderId);
    await tx.mails.update(mine!.id, { state: 'handed-over', settledAt: NOW });
  });
  const after = await visitor.text(PATH);
  expect([...buttonsOn(after).keys()]).toEqual(['F-2']);
  expect(plain(after)).toMatch(/F-1 .*mailed, no answer yet/);
  const late = await visitor.send(PATH, PATH, { week: WEEK, fact: waiting.get('F-1')! });
  expect(late.status).toBe(409);
  expect(plain(await late.text())).toContain('This invitation can no longer be taken back');
  expect(plain(await visitor.text(PATH))).toMatch(/F-1 .*mailed, no answer yet/);
});
