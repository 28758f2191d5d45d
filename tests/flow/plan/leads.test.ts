/** Leads through the store: opened, asked for, booked, moved, cancelled, done; their mails and calendars. */
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { addService } from '../../../src/flow/facts/enterFacts.js';
import { listFeed } from '../../../src/flow/mail/feed.js';
import { feedPath } from '../../../src/flow/mail/links.js';
import { bookLead, declineLead, finishLead } from '../../../src/flow/plan/leads.js';
import { listLeads } from '../../../src/flow/plan/listLeads.js';
import type { LeadRow } from '../../../src/ports/leads.js';
import type { OutgoingMail } from '../../../src/ports/mailer.js';
import { type Day, day } from '../../../src/units.js';
import { booked } from '../../fixtures/booked.js';
import { inWords } from '../../fixtures/inWords.js';
import { DOCUMENT, linkOf, RiderWorld, SEAL, withWorkshop } from '../riderWorld.js';

/** With a lead on F-1 and the first mails gone. */
async function begun(document: object = DOCUMENT) {
  const world = await RiderWorld.open({ document });
  const reminder = await world.reminderTo('r1@example.org');
  const lead = (await world.lead('F-1'))!;
  const { ids } = world.deps;
  const act = {
    book: (on: string, options = {}) =>
      world.store.write((tx) => bookLead(tx, lead.id, day(on), world.flow.entry, ids, options)),
    decline: () => world.store.write((tx) => declineLead(tx, lead.id, world.flow.entry, ids)),
    finish: () => world.store.write((tx) => finishLead(tx, lead.id, world.flow.entry, ids)),
    serve: async (on: string, by: 'here' | 'another-workshop' = 'here') => {
      const unitId = await world.flow.id('unit', 'F-1');
      const service = {
        unitId,
        serviceKind: 'lower-leg',
        on: day(on),
        by,
        findings: null,
        note: null,
      };
      await world.store.write((tx) => addService(tx, service, world.flow.entry));
    },
    ask: (on: string) => world.post(linkOf(reminder, 'ask'), { day: on }),
  };
  return { world, reminder, lead, ...act };
}

interface Entry {
  readonly method: unknown;
  readonly uid: unknown;
  readonly sequence: unknown;
  readonly status: unknown;
  readonly day: string;
  readonly stamp: string;
}

/** Read by a library that had no part in writing it. */
function entryOf(mail: OutgoingMail): Entry {
  const [part] = mail.attachments ?? [];
  const calendar = new ICAL.Component(ICAL.parse(part!.content));
  const event = calendar.getFirstSubcomponent('vevent')!;
  return {
    method: calendar.getFirstPropertyValue('method'),
    uid: event.getFirstPropertyValue('uid'),
    sequence: event.getFirstPropertyValue('sequence'),
    status: event.getFirstPropertyValue('status'),
    day: String(event.getFirstPropertyValue('dtstart')),
    stamp: String(event.getFirstPropertyValue('dtstamp')),
  };
}

describe('a lead', () => {
  it('opens with what is due, one for each unit, and stays one', async () => {
    const { world } = await begun();
    await world.beat();
    const leads = await world.store.read((tx) => tx.leads.list());
    expect(leads.map((lead) => [lead.state, lead.serviceKind, lead.benchMinutes])).toEqual([
      ['open', 'lower-leg', 60],
      ['open', 'lower-leg', 60],
    ]);
    const unitId = await world.flow.id('unit', 'F-1');
    const twice = world.store.write((tx) =>
      tx.leads.addOpen({ ...leads[0]!, unitId, madeAt: world.flow.entry.at, changedBy: 'test' }),
    );
    await expect(inWords(twice)).rejects.toThrow(/unique/i);
  });

  it('is for the larger job where that is near', async () => {
    const near = { terrainHours: 152, movingHours: 152, asOf: '2026-06-01' };
    const units = [{ ...DOCUMENT.units[0]!, history: near, spring: 'coil' as const }, DOCUMENT.units[1]!];
    const { lead } = await begun({ ...DOCUMENT, units });
    expect(lead).toMatchObject({ serviceKind: 'damper', benchMinutes: 120 });
  });

  it('goes when the service is logged, and a new one opens only when it is wanted again', async () => {
    const { world, serve } = await begun();
    await serve('2026-06-10');
    await world.beat();
    const unitId = await world.flow.id('unit', 'F-1');
    const leads = await world.store.read((tx) => tx.leads.listOfUnit(unitId));
    expect(leads).toEqual([]);
  });

  it('goes when its unit leaves the bike, unless it has a day', async () => {
    const { world, reminder, book } = await begun();
    await book('2026-06-12');
    await world.post(linkOf(reminder, 'gone'), { why: 'stored' });
    await world.beat();
    expect(await world.lead('F-1')).toMatchObject({ state: 'declined' });
  });
});

describe('a booking', () => {
  it('sends a mail with a calendar entry, then its move, then its cancelling: one UID, a rising SEQUENCE', async () => {
    const { world, ask, book, decline } = await begun();
    await ask('2026-06-11');
    await world.beat();
    expect(await book('2026-06-11')).toMatchObject({ isMailed: true, leads: [{ state: 'booked' }] });
    const [booked] = await world.beat();
    expect(booked!.subject).toBe('Booked: Moss Hopper, Thursday 11 June');
    world.now = '2026-06-10T10:00:00Z';
    await book('2026-06-12');
    const [moved] = await world.beat();
    expect(moved!.subject).toBe('New day: Moss Hopper, Friday 12 June');
    world.now = '2026-06-10T11:00:00Z';
    await decline();
    const [cancelled] = await world.beat();
    expect(cancelled!.subject).toBe('Cancelled: Moss Hopper, Friday 12 June');
    const entries = [booked!, moved!, cancelled!].map(entryOf);
    expect(entries.map(({ method, status, day: on }) => [method, status, on])).toEqual([
      ['PUBLISH', 'CONFIRMED', '2026-06-11'],
      ['PUBLISH', 'CONFIRMED', '2026-06-12'],
      ['CANCEL', 'CANCELLED', '2026-06-12'],
    ]);
    expect(new Set(entries.map((one) => one.uid)).size).toBe(1);
    expect(String(entries[0]!.uid)).toMatch(/^[0-9a-f]{8}-[0-9a-f-]{27}$/);
    const [a, b, c] = entries.map((one) => Number(one.sequence));
    expect(a! < b! && b! < c!).toBe(true);
    for (const mail of [booked!, moved!, cancelled!]) {
      expect(mail.headers).not.toHaveProperty('List-Unsubscribe');
      expect(mail.to.address).toBe('r1@example.org');
    }
  });

  it('whose service is logged before its day is told as done, not as cancelled', async () => {
    const { world, book, serve } = await begun();
    await book('2026-06-12');
    await world.beat();
    await serve('2026-06-10');
    const done = (await world.beat()).find((mail) => mail.to.address === 'r1@example.org');
    expect(done!.subject).toBe('Done already: Moss Hopper, Friday 12 June is free again');
    expect(entryOf(done!)).toMatchObject({ method: 'CANCEL', status: 'CANCELLED', day: '2026-06-12' });
  });

  it('that is taken back before its mail left is never told of', async () => {
    const { world, book, decline } = await begun();
    await book('2026-06-12');
    await decline();
    expect(await world.mail()).toEqual([]);
    const { book: again, world: second } = await begun();
    await again('2026-06-12');
    await again('2026-06-11');
    expect(await second.mail()).toEqual(['r1@example.org: Booked: Moss Hopper, Thursday 11 June']);
  });

  it('tells the rider whose day cannot be', async () => {
    const { world, ask, decline } = await begun();
    await ask('2026-06-11');
    await world.beat();
    await decline();
    const [mail] = await world.beat();
    expect(mail!.subject).toBe('Not possible: Moss Hopper, Thursday 11 June');
    expect(mail!.attachments).toBeUndefined();
  });

  it('says whom to call where no mail may go', async () => {
    const riders = [{ ...DOCUMENT.riders[0]!, addressConfirmed: false }, DOCUMENT.riders[1]!];
    const { world, book } = await begun({ ...DOCUMENT, riders });
    expect(await book('2026-06-12')).toMatchObject({ isMailed: false });
    expect(await world.mail()).toEqual([]);
  });

  it('is refused on a day that is full or closed, naming others, unless the workshop insists', async () => {
    const { book } = await begun(withWorkshop({ benchMinutesADay: 60, closedDays: ['2026-06-11'] }));
    await expect(inWords(book('2026-06-11'))).rejects.toMatchObject({
      code: 'refused',
      hint: 'Free days: 2026-06-12, 2026-06-15, 2026-06-16.',
    });
    await expect(inWords(book('2026-06-09'))).rejects.toMatchObject({ code: 'refused' });
    expect(await book('2026-06-11', { evenIfFull: true })).toMatchObject({ leads: [{ state: 'booked' }] });
  });

  it('holds its place: the second of two finds the day full', async () => {
    const { world, book } = await begun(withWorkshop({ placesAWeek: 1 }));
    await book('2026-06-11');
    const other = (await world.lead('F-2'))!;
    const second = world.store.write((tx) =>
      bookLead(tx, other.id, day('2026-06-12'), world.flow.entry, world.deps.ids),
    );
    await expect(inWords(second)).rejects.toMatchObject({
      code: 'refused',
      hint: 'Free days: 2026-06-15, 2026-06-16, 2026-06-17.',
    });
  });

  it('keeps the reminders quiet until a week after its day', async () => {
    const { world, book } = await begun();
    await book('2026-06-12');
    await world.beat();
    const toRider = async (time: string) => {
      world.now = time;
      return (await world.mail()).filter((line) => line.startsWith('r1@'));
    };
    // By then it is over its interval, which is a new reason.
    await world.store.write(async (tx) => {
      const { addHours } = await import('../../../src/flow/facts/enterFacts.js');
      const bikeId = await world.flow.id('bike', 'b1');
      const hours = { bikeId, on: day('2026-06-10'), minutes: 900, ground: 'typical', note: null } as const;
      await addHours(tx, hours, world.flow.entry);
    });
    expect(await toRider('2026-06-15T09:00:00Z')).toEqual([]);
    expect(await toRider('2026-06-18T09:00:00Z')).toEqual([]);
    expect(await toRider('2026-06-19T09:00:00Z')).toEqual([
      'r1@example.org: Moss Hopper: lower-leg service overdue',
    ]);
  });

  it('is taken from the calendar when the service is done before its day', async () => {
    const { world, book, serve } = await begun();
    await book('2026-06-16');
    await world.beat();
    await serve('2026-06-10');
    const mails = await world.beat();
    expect(mails.map(entryOf).map((one) => one.method)).toEqual(['CANCEL']);
    expect((await world.lead('F-1'))?.state).toBe('done');
  });

  it('is done by hand too, and then no more', async () => {
    const { world, finish, decline } = await begun();
    await finish();
    await expect(inWords(finish())).rejects.toMatchObject({ code: 'refused' });
    await expect(inWords(decline())).rejects.toMatchObject({ code: 'refused' });
    expect((await world.lead('F-1'))?.state).toBe('done');
  });
});

describe('what the workshop sees', () => {
  it('leads by what waits for its word, then by day', async () => {
    const { world, ask } = await begun();
    await ask('2026-06-12');
    const rows = await world.store.read((tx) => listLeads(tx, world.flow.entry.at));
    expect(rows).toMatchObject([
      { unit: 'F-1', state: 'asked-for', day: '2026-06-12', bike: 'Moss Hopper', riderName: 'Rider 1' },
      { unit: 'F-2', state: 'open', day: null, bike: 'Brine', phone: '+000 555 0102', unitState: 'due' },
    ]);
  });

  it('a calendar behind a secret address that names no rider, and that another address replaces', async () => {
    const { world, ask } = await begun();
    await ask('2026-06-12');
    const other = (await world.lead('F-2')) as LeadRow;
    await world.store.write((tx) =>
      bookLead(tx, other.id, '2026-06-11' as Day, world.flow.entry, world.deps.ids),
    );
    const path = await world.store.read(async (tx) =>
      feedPath(SEAL, tx.workshopId, await tx.leads.feedEpoch()),
    );
    const response = await world.app.request(path);
    expect(response.headers.get('content-type')).toContain('text/calendar');
    const text = await response.text();
    const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent');
    expect(
      events.map((event) => [
        String(event.getFirstPropertyValue('dtstart')),
        event.getFirstPropertyValue('status'),
        event.getFirstPropertyValue('summary'),
      ]),
    ).toEqual([
      ['2026-06-11', 'CONFIRMED', 'F-2 lower-leg service, Brine'],
      ['2026-06-12', 'TENTATIVE', 'Asked for: F-1 lower-leg service, Moss Hopper'],
    ]);
    expect(text).not.toMatch(/Rider|example\.org|555/);
    expect(text).toContain('REFRESH-INTERVAL');
    expect(
      (await world.app.request(path.replace(/(.)\.ics/, (_, last) => `${last === '0' ? '1' : '0'}.ics`)))
        .status,
    ).toBe(404);
    await world.store.write((tx) => tx.leads.renewFeed());
    expect((await world.app.request(path)).status).toBe(404);
    expect(await world.store.read((tx) => listFeed(tx, world.flow.entry.at))).toHaveLength(2);
  });

  it('earlier days for a fork whose likely week is crowded', async () => {
    const units = [
      { ...DOCUMENT.units[0]!, history: { terrainHours: 44, movingHours: 44, asOf: '2026-06-01' } },
      DOCUMENT.units[1]!,
      { ...DOCUMENT.units[1]!, tag: 'F-3' },
    ];
    const { listOfferedDays } = await import('../../../src/flow/plan/leadDays.js');
    const world = await RiderWorld.open({ document: { ...withWorkshop({ placesAWeek: 2 }), units } });
    const unitId = await world.flow.id('unit', 'F-1');
    const standings = await world.store.read((tx) => tx.standings.listOf(unitId));
    await world.store.write((tx) =>
      tx.standings.put(
        unitId,
        standings.map((one) => ({
          ...one,
          state: one.serviceKind === 'lower-leg' ? 'coming-up' : 'in-time',
          likely: { p10: day('2026-06-20'), p50: day('2026-06-24'), p90: day('2026-07-10') },
        })),
      ),
    );
    const wish = { units: [{ unitId, jobs: ['lower-leg'] }], count: 3 };
    const offered = () => world.store.read((tx) => listOfferedDays(tx, wish, world.flow.entry.at));
    expect(await offered()).toEqual(['2026-06-22', '2026-06-23', '2026-06-24']);
    for (const [tag, on] of [
      ['F-2', '2026-06-22'],
      ['F-3', '2026-06-23'],
    ] as const)
      await booked(world.store, tag, on, { at: world.flow.entry.at });
    expect(await offered()).toEqual(['2026-06-15', '2026-06-16', '2026-06-17']);
  });
});
