/** A workshop's whole job in a real browser, from an empty install to the next service period. */
import { expect, test } from 'vitest';
import type { Deps } from '../../src/flow/deps.js';
import { refreshAllDue } from '../../src/flow/due/refreshDue.js';
import { deliverOutbox } from '../../src/flow/mail/deliverOutbox.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import { calendarFeed } from '../../src/mail/calendar.js';
import { mailWriter } from '../../src/mail/writer.js';
import type { OutgoingMail } from '../../src/ports/mailer.js';
import { sealWith } from '../../src/secret.js';
import { DAY_MS, instant } from '../../src/units.js';
import { createApp } from '../../src/web/app.js';
import { filePorts } from '../fixtures/filePorts.js';
import { linkOf } from '../flow/riderWorld.js';
import { take } from '../web/takeTrack.js';
import { DOCUMENT, NOW, takeDocument, webWorld } from '../web/webWorld.js';
import { hasBrowser, openBrowser, served, signIn, WHY_NOT, watch } from './browser.js';

test.runIf(hasBrowser)(
  `a workshop from an empty install to the next service period${WHY_NOT}`,
  { timeout: 180_000 },
  async () => {
    const world = await webWorld({ document: null });
    const seal = sealWith(world.deps.secret);
    const rider = { ids: world.deps.ids, seal, feed: calendarFeed, ...filePorts() };
    const url = await served({ app: createApp({ ...world.deps, rider }) });
    const sent: OutgoingMail[] = [];
    const { store, clock, ids, log } = world.deps;
    const deps = {
      ...{ store, clock, ids, log, writer: mailWriter },
      mailer: { deliver: async (mail: OutgoingMail) => void sent.push(mail) },
      links: { publicUrl: url, seal, isOneClick: false },
    };
    const beat = async (): Promise<void> => {
      await refreshAllDue(deps);
      await queueNotices(deps);
      await deliverOutbox(deps as unknown as Deps);
    };
    const browser = await openBrowser();
    const page = await browser.newPage();
    const watched = watch(page);

    // Nothing there yet: the workshop is made on the first page, and riders, bikes and units come by import.
    await signIn(page, url);
    await page.getByLabel('Name of the workshop').fill('Tumbledown Suspension Bench');
    await page.getByLabel('Time zone').selectOption('Europe/Lisbon');
    await page.getByRole('button', { name: 'Create the workshop' }).click();
    expect(await page.locator('main').textContent()).toContain('There are no units yet');
    await takeDocument(world.store, DOCUMENT, NOW);
    await refreshAllDue(deps);

    // A ride file comes that nobody knows the rider of; the tray asks, and the ride counts.
    await take(world, { name: 'who.gpx', type: 'cycling' });
    await page.goto(url);
    expect(await page.getByRole('row', { name: /who\.gpx/ }).textContent()).toContain('with rides');
    await page.getByRole('link', { name: 'To the tray' }).click();
    const whose = page.locator('form', { has: page.locator('select[name="rider"]') });
    await whose.locator('select[name="rider"]').selectOption('r1');
    await whose.getByRole('button').click();
    expect(await page.getByRole('status').textContent()).toMatch(/counts/i);

    // The interval is looked at before it is saved; it makes the fork due.
    await page.getByRole('link', { name: 'Due', exact: true }).click();
    await page.getByRole('link', { name: 'Intervals' }).click();
    await page.getByRole('link', { name: 'Change: fork, lower-leg service' }).click();
    await page.getByLabel('Terrain hours', { exact: true }).fill('40');
    await page.getByRole('button', { name: 'See what would change' }).click();
    expect(await page.getByRole('row', { name: /F-0001/ }).textContent()).toMatch(/coming up.*due/s);
    await page.getByRole('button', { name: 'Save this interval' }).click();

    // The rider gets a mail, which the workshop sees, and asks for a day by its link.
    await beat();
    const mail = sent.find(({ to }) => to.address === 'r1@example.org')!;
    expect(mail.text).toMatch(/F-0001|Green trail bike/);
    await page.getByRole('link', { name: 'Today', exact: true }).click();
    await page.getByRole('link', { name: 'Mails' }).click();
    expect(await page.getByRole('row', { name: /Pia Lanternby/ }).textContent()).toMatch(
      /F-0001.*handed over/s,
    );
    const phone = await browser.newPage();
    const watchedPhone = watch(phone);
    await phone.goto(linkOf(mail, 'ask'));
    await phone.locator('main form button').first().click();
    expect(await phone.getByRole('status').textContent()).toContain('You asked for');

    // The day is booked; the rider gets it for the calendar.
    await page.goto(url);
    expect(await page.locator('main').textContent()).toContain('1 rider asks for a day');
    await page.getByRole('link', { name: 'To the bookings' }).click();
    await page.getByRole('button', { name: 'Book this day' }).click();
    expect(await page.getByRole('status').textContent()).toContain('The day is booked');
    await beat();
    const booking = sent.find(({ attachments }) => attachments !== undefined && attachments.length > 0)!;
    expect(booking.to.address).toBe('r1@example.org');
    const lead = await world.store.read(async (tx) => (await tx.leads.list(['booked']))[0]!);
    await page.getByRole('link', { name: 'Bench', exact: true }).click();
    await page.locator('main').getByRole('link', { name: /June/ }).first().click();
    expect(await page.getByRole('row', { name: /F-0001/ }).textContent()).toContain('booked');

    // On that day the service is logged with what was found, and the next period begins.
    const days = Math.round((Date.parse(lead.day!) - Date.parse('2026-06-10')) / DAY_MS);
    world.setNow(instant(NOW + days * DAY_MS));
    await page.goto(`${url}/units/F-0001`);
    await page.getByRole('link', { name: 'Log a service' }).click();
    await page.locator('select[name="kind"]').selectOption('lower-leg');
    await page.locator('label.tap:has(input[name="foamRings"][value="dark"])').click();
    await page.getByRole('button', { name: 'Log this service' }).click();
    const row = page.getByRole('row', { name: /^lower-leg service (in time|due)/ });
    expect(await row.textContent()).toContain('in time');
    expect(await row.textContent()).toContain('0\u00a0h of 40\u00a0h');
    expect(await page.locator('.book').textContent()).toContain('dark');
    await beat();
    await page.getByRole('link', { name: 'Bookings' }).click();
    expect(await page.locator('main').textContent()).not.toContain('F-0001');

    for (const { complaints, hosts } of [watched, watchedPhone]) {
      expect(complaints).toEqual([]);
      expect([...hosts]).toEqual([new URL(url).host]);
    }
    expect(world.faults).toEqual([]);
  },
);
