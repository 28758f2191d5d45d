/** What goes out to riders: how early, at which hour, with which line of the workshop's own. */
import { expect, test } from 'vitest';
import { getWorkshop } from '../../../src/flow/settings.js';
import { calendarFeed } from '../../../src/mail/calendar.js';
import { sealWith } from '../../../src/secret.js';
import { createApp } from '../../../src/web/app.js';
import { filePorts } from '../../fixtures/filePorts.js';
import { plain, signedIn } from '../visitor.js';
import { webWorld } from '../webWorld.js';

const MAILS = '/settings/mails';
const FIELDS = {
  noticeDays: '21',
  digestHour: '6',
  reminder: 'Side door, ring twice.',
  booking: '',
  ready: '',
};

test('days of notice, hour and lines are saved and stand there', async () => {
  const { app, store } = await webWorld();
  const owner = await signedIn(app);
  const response = await owner.send(MAILS, MAILS, FIELDS);
  expect(response.headers.get('location')).toBe(`${MAILS}?done=saved`);
  expect(await store.read(getWorkshop)).toMatchObject({
    ...{ noticeDays: 21, digestHour: 6 },
    ownLines: { reminder: 'Side door, ring twice.', booking: null, ready: null },
  });
  const text = await owner.text(MAILS);
  expect(text).toContain('value="Side door, ring twice."');
  expect(text).toMatch(/value="6" selected/);
});

test.each([
  ['noticeDays', '0', 'from 1 to 90'],
  ['noticeDays', '91', 'from 1 to 90'],
  ['noticeDays', '3.5', 'from 1 to 90'],
  ['digestHour', '24', 'Choose an hour'],
  ['reminder', 'x'.repeat(201), 'At most 200 characters'],
  ['ready', 'a\u0007b', 'At most 200 characters'],
])('a wrong %s is told beside its field, and nothing is saved', async (name, typed, message) => {
  const { app, store } = await webWorld();
  const owner = await signedIn(app);
  const before = await store.read((tx) => tx.facts.count());
  const response = await owner.send(MAILS, MAILS, { ...FIELDS, booking: 'Bring the key', [name]: typed });
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(text).toContain(`id="${name}-wrong"`);
  expect(text).toContain('value="Bring the key"');
  expect(plain(text)).toContain(message);
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
});

test('the calendar’s address is that of the place where the page is served', async () => {
  const world = await webWorld();
  const seal = sealWith(world.deps.secret);
  const rider = { ids: world.deps.ids, seal, feed: calendarFeed, ...filePorts() };
  const owner = await signedIn(createApp({ ...world.deps, rider }));
  const [, address = ''] = /<code>([^<]+)<\/code>/.exec(await owner.text('/settings/calendar')) ?? [];
  expect(address).toMatch(/^http:\/\/localhost\/bookings\/[^/]+\.ics$/);
  const answer = await owner.get(address.slice('http://localhost'.length));
  expect([answer.status, (await answer.text()).split('\r\n')[0]]).toEqual([200, 'BEGIN:VCALENDAR']);
});
