import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/errors.js';
import { forgetRider } from '../../../src/flow/carry/forgetRider.js';
import { addService, markUnit } from '../../../src/flow/facts/enterFacts.js';
import { countCame, listInvited, takeBackInvitation } from '../../../src/flow/plan/invited.js';
import { bookVisit } from '../../../src/flow/plan/leads.js';
import { getQuietWeek, inviteUnits } from '../../../src/flow/plan/quietWeek.js';
import { type Day, day } from '../../../src/units.js';
import { manyForks, numbersTo } from '../../fixtures/manyForks.js';
import { linkOf, RiderWorld } from '../riderWorld.js';

/** A Wednesday in a week of winter. */
const NOW = '2026-11-18T09:00:00Z';
/** The month in which the nth fork was opened last; its lower-leg falls due twelve months later. */
const OPENED = [
  '2025-06-01',
  '2025-10-20',
  '2025-12-01',
  '2026-01-10',
  '2026-02-10',
  '2026-04-20',
  '2026-05-15',
];

/** Invented: seven forks that are not ridden, opened at different times. */
async function winter(change: (document: ReturnType<typeof manyForks>) => object = (document) => document) {
  const count = OPENED.length;
  const forks = manyForks({
    ...{ count, openDays: ['tue', 'wed', 'thu', 'fri'], timeZone: 'Europe/Lisbon' },
    history: () => ({ terrainHours: 1, movingHours: 1, asOf: '2026-11-01' }),
    fittedOn: '2025-01-01',
  });
  const document = {
    ...forks,
    units: forks.units.map(({ tag, unitKind }) => ({ tag, unitKind, history: 'new' })),
    services: numbersTo(count).map((n) => ({ unit: `F-${n}`, serviceKind: 'full', on: OPENED[n - 1] })),
  };
  const world = await RiderWorld.open({ now: NOW, document: change(document as never) });
  const read = (on: string | null = '2026-11-25') =>
    world.store.read((tx) => getQuietWeek(tx, world.flow.entry.at, on as Day | null));
  const invite = (tags: readonly string[], on = '2026-11-25') =>
    world.store.write((tx) => inviteUnits(tx, { on: day(on), tags }, world.flow.entry));
  const came = async () =>
    Object.fromEntries(
      (await world.store.read((tx) => listInvited(tx, world.flow.entry.at))).map((row) => [
        row.unit,
        row.came,
      ]),
    );
  const unit = (tag: string) => world.flow.id('unit', tag);
  return { world, read, invite, came, unit };
}

const toRiders = (mails: readonly { to: { address: string }; subject: string }[]): string[] =>
  mails
    .filter(({ to }) => to.address !== 'bench@example.org')
    .map(({ to, subject }) => `${to.address}: ${subject}`);

describe('whom to invite', () => {
  it('lists what is likely due by the end of the first busy month, the worst first', async () => {
    const { read } = await winter();
    const quiet = (await read())!;
    expect(quiet.week).toMatchObject({ from: '2026-11-23', to: '2026-11-29' });
    expect(quiet.winter).toEqual({ before: '2027-04-01', dueBy: '2027-04-30' });
    // F-7 falls due in May, after the first busy month.
    expect(quiet.rows.map(({ unit, state, likely }) => [unit, state, likely])).toEqual([
      ['F-1', 'over-interval', '2026-06-01'],
      ['F-2', 'due', '2026-10-20'],
      ['F-3', 'coming-up', '2026-12-01'],
      ['F-4', 'in-time', '2027-01-10'],
      ['F-5', 'in-time', '2027-02-10'],
      ['F-6', 'in-time', '2027-04-20'],
    ]);
    expect(quiet.fits).toBe(6);
  });

  it('finds no quiet week in the busy months, while the workshop is closed, or once it is booked', async () => {
    const { world, read } = await winter();
    world.now = '2027-05-05T09:00:00Z';
    expect(await read(null)).toBeNull();
    const closed = await winter((document) => ({
      ...document,
      workshop: {
        ...document.workshop,
        closedDays: ['2026-11-24', '2026-11-25', '2026-11-26', '2026-11-27'],
      },
    }));
    expect(await closed.read()).toBeNull();
    const small = await winter((document) => ({
      ...document,
      workshop: { ...document.workshop, benchMinutesADay: 100 },
    }));
    expect(await small.read()).not.toBeNull();
    for (const [n, on] of ['2026-11-24', '2026-11-25', '2026-11-26'].entries()) {
      const units = [{ unitId: await small.unit(`F-${n + 4}`), jobs: ['lower-leg'] }];
      await small.world.store.write((tx) =>
        bookVisit(tx, { units, day: day(on) }, small.world.flow.entry, small.world.deps.ids),
      );
    }
    expect(await small.read()).toBeNull();
  });

  it('ticks no more than the week has room for', async () => {
    const { read } = await winter((document) => ({
      ...document,
      workshop: { ...document.workshop, benchMinutesADay: 90 },
    }));
    const quiet = (await read())!;
    expect(quiet.rows).toHaveLength(6);
    const minutes = quiet.rows.slice(0, quiet.fits).reduce((sum, row) => sum + row.minutes, 0);
    expect(quiet.fits).toBeLessThan(6);
    expect(minutes + quiet.week.minutes.mean).toBeLessThanOrEqual(quiet.week.usableMinutes);
  });

  it('shows whom no reminder reaches as calls, and leaves out what must not be ridden', async () => {
    const { world, read, invite, unit } = await winter((document) => ({
      ...document,
      riders: document.riders.map((rider, i) => (i === 5 ? { ...rider, addressConfirmed: false } : rider)),
    }));
    const r4 = await world.flow.id('rider', 'r4');
    const f5 = await unit('F-5');
    await world.store.write(async (tx) => {
      await tx.contacts.setUnsubscribed(r4, world.flow.entry.at);
      await markUnit(tx, f5, true, 'cracked', world.flow.entry);
    });
    const quiet = (await read())!;
    expect(quiet.rows.map((row) => row.unit)).toEqual(['F-1', 'F-2', 'F-3']);
    expect(quiet.calls.map((row) => row.unit)).toEqual(['F-4', 'F-6']);
    await expect(invite(['F-4'])).rejects.toThrow(Refusal);
  });
});

describe('the invitation', () => {
  it('goes once, never says that something is late, and leads to a day', async () => {
    const { world, invite, came } = await winter();
    await world.beat();
    await invite(['F-1', 'F-4']);
    expect(await came()).toEqual({ 'F-1': 'waits', 'F-4': 'waits' });
    // F-1 has had its reminder today: its invitation goes on the next day.
    expect(toRiders(await world.beat())).toEqual([
      'r4@example.org: Room on our bench before the season: Bike 4',
    ]);
    world.now = '2026-11-19T09:00:00Z';
    const [mail, ...more] = (await world.beat()).filter(({ to }) => to.address === 'r1@example.org');
    expect(more).toEqual([]);
    const text = mail!.text.replaceAll(/\s+/g, ' ');
    expect(text).toContain('Our bench has room in the week 23–29 November.');
    expect(text).toContain('the queue that comes with April');
    expect(text).toMatch(/Tuesday 24 November/);
    expect(text).not.toMatch(/overdue|over interval|over its interval|\blate\b|due/i);
    expect(mail!.headers['List-Unsubscribe-Post'] ?? '').toBe('List-Unsubscribe=One-Click');
    expect(await came()).toEqual({ 'F-1': 'told', 'F-4': 'told' });

    await world.post(linkOf(mail!, 'ask'), { day: '2026-11-25' });
    expect((await came())['F-1']).toBe('booked');
    const service = {
      unitId: await world.flow.id('unit', 'F-4'),
      serviceKind: 'full',
      on: day('2026-11-19'),
    };
    await world.store.write((tx) =>
      addService(tx, { ...service, by: 'here', findings: null, note: null }, world.flow.entry),
    );
    expect(await came()).toEqual({ 'F-1': 'booked', 'F-4': 'done' });
    world.now = '2026-11-20T09:00:00Z';
    expect(toRiders(await world.beat()).filter((one) => one.includes('Room on our bench'))).toEqual([]);
    const rows = await world.store.read((tx) => listInvited(tx, world.flow.entry.at));
    expect(countCame(rows)).toMatchObject({ done: 1, booked: 1, told: 0 });
    await world.flow.expectSound();
  });

  it('goes once a unit and winter, however often it is chosen', async () => {
    const { world, invite, read } = await winter();
    await invite(['F-4']);
    await world.beat();
    await expect(invite(['F-4'])).rejects.toThrow(Refusal);
    // All or none.
    await expect(invite(['F-6', 'F-4'])).rejects.toThrow(Refusal);
    await expect(invite([])).rejects.toThrow(Refusal);
    // Half of those who are asked are taken to come.
    await invite(['F-5']);
    expect(await read()).toMatchObject({ fits: 3, rows: [{}, {}, {}, {}] });
    const left = (await read('2026-12-02'))!.rows.map((row) => row.unit);
    expect(left).toContain('F-6');
    expect(left).not.toContain('F-4');
    world.now = '2026-12-05T09:00:00Z';
    expect(toRiders(await world.beat()).filter((one) => one.startsWith('r4@'))).toEqual([]);
  });

  it('does not go to who has a day, said later, or stopped reminders since; nor once its week is over', async () => {
    const { world, invite, came } = await winter();
    await invite(['F-4', 'F-5', 'F-6']);
    const { entry } = world.flow;
    const [f4, r5, r6] = [
      await world.flow.id('unit', 'F-4'),
      await world.flow.id('rider', 'r5'),
      await world.flow.id('rider', 'r6'),
    ];
    const f6 = await world.flow.id('unit', 'F-6');
    await world.store.write(async (tx) => {
      await bookVisit(
        tx,
        { units: [{ unitId: f4, jobs: ['lower-leg'] }], day: day('2026-11-25') },
        entry,
        world.deps.ids,
      );
      await tx.contacts.setUnsubscribed(r5, entry.at);
      await tx.leads.putLater({ unitId: f6, riderId: r6, at: entry.at, until: day('2027-02-01') });
    });
    const invited = (mails: string[]) => mails.filter((one) => one.includes('Room on our bench'));
    expect(invited(toRiders(await world.beat()))).toEqual([]);
    expect(await came()).toEqual({ 'F-4': 'booked', 'F-5': 'to-call', 'F-6': 'not-now' });
    world.now = '2026-12-01T09:00:00Z';
    expect(invited(toRiders(await world.beat()))).toEqual([]);
    await world.flow.expectSound();
  });

  it('can be taken back until its mail has gone, and then be given again', async () => {
    const { world, invite, came, read } = await winter();
    const [first] = await invite(['F-3']);
    const back = (id: string) =>
      world.store.write((tx) => takeBackInvitation(tx, id, { ...world.flow.entry, why: 'a mistake' }));
    await back(first!);
    expect(await came()).toEqual({});
    expect(toRiders(await world.beat()).filter((one) => one.includes('Room on our bench'))).toEqual([]);
    expect((await read())!.rows.map(({ unit }) => unit)).toContain('F-3');
    await expect(back(first!)).rejects.toBeInstanceOf(Refusal);
    const [again] = await invite(['F-3']);
    world.now = '2026-11-19T08:00:00Z';
    await world.beat();
    expect(await came()).toEqual({ 'F-3': 'told' });
    await expect(back(again!)).rejects.toMatchObject({ refusal: 'invitation-went' });
  });

  it('waits until reminders have begun', async () => {
    const { world, invite } = await winter((document) => ({
      ...document,
      workshop: { ...document.workshop, remindersFrom: null },
    }));
    await invite(['F-4']);
    expect(toRiders(await world.beat())).toEqual([]);
  });

  it('is forgotten with its rider, and no other rider of the unit is told twice', async () => {
    const { world, invite, came } = await winter();
    await invite(['F-4']);
    await world.beat();
    const r4 = await world.flow.id('rider', 'r4');
    await world.store.write((tx) => forgetRider(tx, r4, world.flow.entry.at));
    expect(Object.keys(await came())).toEqual(['F-4']);
    await world.flow.expectSound();
  });
});
