/** Reminders through the store and the calendar of a workshop. */
import { describe, expect, it } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { ServiceError } from '../../../src/errors.js';
import { addHours, addService } from '../../../src/flow/facts/enterFacts.js';
import { benchUnit } from '../../../src/flow/facts/jobs.js';
import { type Day, day } from '../../../src/units.js';
import { rideFile } from '../flowWorld.js';
import { DOCUMENT, linkOf, RiderWorld, withWorkshop } from '../riderWorld.js';

const healthy = {
  ...DOCUMENT,
  units: DOCUMENT.units.map((unit) => ({ ...unit, history: 'new' })),
};
const ofRider = (lines: readonly string[], n = 1) => lines.filter((line) => line.startsWith(`r${n}@`));

describe('a mail that waits', () => {
  it('is never sent after its service was logged at 18:30', async () => {
    const world = await RiderWorld.open({ now: '2026-06-10T17:00:00Z', document: healthy });
    const [bikeId, unitId] = [await world.flow.id('bike', 'b1'), await world.flow.id('unit', 'F-1')];
    // The day's hour has passed and a mail has gone already, so the next one waits for the morning.
    await addRiding(world, bikeId, 2900);
    expect(ofRider(await world.mail())).toEqual([
      expect.stringMatching(/^r1@example.org: Moss Hopper: lower-leg service about /),
    ]);
    await addRiding(world, bikeId, 300);
    expect(ofRider(await world.mail())).toEqual([]);
    const waiting = (await world.mails()).filter(
      (mail) => mail.state === 'waiting' && mail.to !== 'workshop',
    );
    expect(waiting).toHaveLength(1);
    world.now = '2026-06-10T17:30:00Z';
    const service = { unitId, serviceKind: 'lower-leg', on: day('2026-06-10'), by: 'here' as const };
    await world.store.write((tx) =>
      addService(tx, { ...service, findings: null, note: null }, world.flow.entry),
    );
    for (let i = 1; i < 10; i++) {
      world.now = `${addDays(day('2026-06-10'), i)}T06:30:00Z`;
      expect(ofRider(await world.mail())).toEqual([]);
    }
    expect((await world.mails()).find((mail) => mail.id === waiting[0]!.id)).toMatchObject({
      state: 'withdrawn',
      tries: 0,
    });
  });

  it('is withdrawn when its fork comes to the bench, and told again when that leaves without a service', async () => {
    const world = await RiderWorld.open({ now: '2026-06-10T03:00:00Z' });
    const unitId = await world.flow.id('unit', 'F-1');
    const bench = (isIn: boolean) => world.store.write((tx) => benchUnit(tx, unitId, isIn, world.flow.entry));
    const riderId = await world.flow.id('rider', 'r1');
    const statesOf = async () =>
      (await world.mails()).filter((mail) => mail.to === riderId).map((mail) => [mail.state, mail.tries]);
    expect(await world.mail()).toEqual([]);
    expect((await statesOf())[0]).toEqual(['waiting', 0]);
    await bench(true);
    for (const now of ['2026-06-10T09:00:00Z', '2026-06-11T09:00:00Z', '2026-06-20T09:00:00Z']) {
      world.now = now;
      expect((await world.mail()).filter((line) => line.startsWith('r1@'))).toEqual([]);
    }
    expect((await statesOf())[0]).toEqual(['withdrawn', 0]);
    expect(await world.flow.due('F-1')).toMatchObject({ state: 'on-the-bench' });
    await bench(false);
    world.now = '2026-06-21T09:00:00Z';
    expect((await world.mail()).filter((line) => line.startsWith('r1@'))).toHaveLength(1);
    await world.flow.expectSound();
  });

  it.each([
    [
      'the rider stopped reminders',
      async (world: RiderWorld, riderId: string) => {
        await world.store.write((tx) => tx.contacts.setUnsubscribed(riderId, world.flow.entry.at));
      },
    ],
    [
      'the address takes no mail',
      async (world: RiderWorld, riderId: string) => {
        await world.store.write((tx) => tx.contacts.markRefused(riderId, world.flow.entry.at));
      },
    ],
    [
      'the rider asked to hear later',
      async (world: RiderWorld, riderId: string) => {
        const unitId = await world.flow.id('unit', 'F-1');
        const later = { unitId, riderId, at: world.flow.entry.at, until: day('2026-09-01') };
        await world.store.write((tx) => tx.leads.putLater(later));
      },
    ],
  ])('is not sent where meanwhile %s, even before anything is decided anew', async (_, change) => {
    const world = await RiderWorld.open({ now: '2026-06-10T05:00:00Z' });
    const { queueNotices } = await import('../../../src/flow/mail/queueNotices.js');
    const { deliverOutbox } = await import('../../../src/flow/mail/deliverOutbox.js');
    const { refreshAllDue } = await import('../../../src/flow/due/refreshDue.js');
    await refreshAllDue(world.deps);
    await queueNotices(world.deps);
    world.now = '2026-06-10T09:00:00Z';
    await change(world, await world.flow.id('rider', 'r1'));
    await deliverOutbox(world.deps);
    expect(world.sent.map((mail) => mail.to.address).sort()).toEqual(['bench@example.org', 'r2@example.org']);
    // What was withdrawn unsent stays so, beat after beat.
    const before = (await world.mails()).length;
    await world.beat();
    await world.beat();
    expect((await world.mails()).length - before).toBeLessThanOrEqual(1);
  });

  it('goes to the new address only, and as another mail, where the address was corrected after a try', async () => {
    let isDown = true;
    const tried: string[] = [];
    const world: RiderWorld = await RiderWorld.open({
      mailer: {
        deliver: async (mail) => {
          tried.push(`${mail.to.address} ${mail.messageId}`);
          if (isDown) throw new ServiceError('mail-failed', '451 later', { permanent: false });
        },
      },
    });
    await world.beat();
    isDown = false;
    await world.flow.import({
      ...DOCUMENT,
      riders: [{ ...DOCUMENT.riders[0]!, email: 'right@example.org' }, DOCUMENT.riders[1]!],
    });
    world.now = '2026-06-10T10:00:00Z';
    await world.beat();
    const ids = (address: string) =>
      tried.filter((line) => line.startsWith(`${address} `)).map((line) => line.split(' ')[1]);
    expect(ids('r1@example.org')).toHaveLength(1);
    expect(ids('right@example.org')).toHaveLength(1);
    expect(ids('right@example.org')).not.toEqual(ids('r1@example.org'));
    expect(new Set(ids('r2@example.org')).size).toBe(1);
  });
});

describe('rides that stop coming', () => {
  const ride = (world: RiderWorld, on: string) =>
    world.flow.take(rideFile(`${on}T16:00:00Z`, 60), { bike: 'b1b' });

  it('three a week and then nothing: one mail on day 21, none by day 60, cleared by the next file', async () => {
    const world = await RiderWorld.open({ now: '2026-03-19T20:00:00Z', document: healthy });
    const handOver = async (on: Day): Promise<void> => {
      world.now = `${on}T20:00:00Z`;
      await ride(world, on);
    };
    for (let week = 0; week < 6; week++)
      for (const i of [0, 2, 4]) await handOver(addDays(day('2026-03-20'), 7 * week + i));
    const last = day('2026-04-28');
    const told: [number, string][] = [];
    for (let i = 4; i <= 60; i++) {
      world.now = `${addDays(last, i)}T09:00:00Z`;
      for (const line of ofRider(await world.mail())) told.push([i, line]);
    }
    expect(told).toEqual([[21, 'r1@example.org: No rides since 28 April: are you resting?']]);
    await handOver(day('2026-06-26'));
    for (let i = 0; i < 20; i++) {
      world.now = `${addDays(day('2026-06-27'), i)}T09:00:00Z`;
      expect(ofRider(await world.mail())).toEqual([]);
    }
    world.now = '2026-07-17T09:00:00Z';
    expect(ofRider(await world.mail())).toEqual(['r1@example.org: No rides since 26 June: are you resting?']);
  });

  it('files that wait in the tray are files that come', async () => {
    const twoForks = {
      ...healthy,
      bikes: DOCUMENT.bikes.map((bike) => ({ ...bike, rider: 'r1', type: 'trail' })),
    };
    const world = await RiderWorld.open({ now: '2026-04-12T20:00:00Z', document: twoForks });
    for (let i = 0; i < 8; i++) {
      const on = addDays(day('2026-04-13'), 2 * i);
      world.now = `${on}T20:00:00Z`;
      await ride(world, on);
    }
    world.now = '2026-05-12T20:00:00Z';
    await world.flow.take(rideFile('2026-05-12T16:00:00Z', 60));
    expect(await world.store.read((tx) => tx.rides.listAsking())).toHaveLength(1);
    world.now = '2026-05-19T09:00:00Z';
    expect(ofRider(await world.mail())).toEqual([]);
    world.now = '2026-06-02T09:00:00Z';
    expect(ofRider(await world.mail())).toEqual(['r1@example.org: No rides since 12 May: are you resting?']);
  });
});

describe('the workshop’s list', () => {
  it.each([
    ['2026-03-29', 'forward', '2026-03-28T12:00:00Z'],
    ['2026-10-25', 'back', '2026-10-24T12:00:00Z'],
  ])('goes once on %s, when the clocks go %s', async (changeDay, _, start) => {
    const openDays = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];
    const document = {
      ...withWorkshop({ openDays, digestHour: 2 }),
      units: DOCUMENT.units.map((unit) => ({ ...unit, history: 'new' })),
    };
    const world = await RiderWorld.open({ now: start, document });
    await addRiding(world, await world.flow.id('bike', 'b1'), 3120);
    await world.beat();
    const days: string[] = [];
    // Every half hour over the change, with something new each day so that there is a reason each day.
    for (let i = 0; i < 2 * 48; i++) {
      const time = new Date(Date.parse(start) + i * 30 * 60_000).toISOString();
      world.now = time;
      if (i % 48 === 5)
        await addRiding(world, await world.flow.id('bike', i < 48 ? 'b2' : 'b1'), i < 48 ? 3120 : 700);
      for (const mail of await world.beat())
        if (mail.to.address === 'bench@example.org') days.push(localDay(time));
    }
    expect(days).toContain(changeDay);
    expect(new Set(days).size).toBe(days.length);
  });

  it('tells whom to call after a final refusal', async () => {
    const world: RiderWorld = await RiderWorld.open({
      mailer: {
        deliver: async (mail) => {
          if (mail.to.address === 'r1@example.org')
            throw new ServiceError('mail-failed', '550 no such box', { permanent: true });
          world.sent.push(mail);
        },
      },
    });
    await world.beat();
    expect((await world.mails()).find((mail) => mail.state === 'refused')).toMatchObject({
      answer: '550 no such box',
      tries: 1,
    });
    world.now = '2026-06-11T09:00:00Z';
    const [digest] = await world.beat();
    expect(digest!.to.address).toBe('bench@example.org');
    expect(digest!.text).toContain('Please call: mail does not reach them:\n- Rider 1');
    world.now = '2026-06-12T09:00:00Z';
    expect(await world.beat()).toEqual([]);
  });

  it('leads to the pages where they have a public address', async () => {
    const world = await RiderWorld.open();
    const digest = await world.reminderTo('bench@example.org');
    expect(digest.text).toContain('https://bench.example.org/');
    expect(linkOf(await world.reminderTo('r1@example.org'), 'ask')).toContain('/r/ask/');
  });
});

const localDay = (time: string): string =>
  new Intl.DateTimeFormat('sv-SE', { timeZone: 'Europe/Lisbon' }).format(new Date(time));

async function addRiding(world: RiderWorld, bikeId: string, minutes: number): Promise<void> {
  const { entry } = world.flow;
  for (let left = minutes, i = 1; left > 0; left -= 1440, i++) {
    const on = addDays(day(localDay(new Date(entry.at).toISOString())), -i);
    const hours = { bikeId, on, minutes: Math.min(left, 1440), ground: 'typical', note: null } as const;
    await world.store.write((tx) => addHours(tx, hours, entry));
  }
}
