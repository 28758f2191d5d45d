/** A season day by day: every mail is true on its day, none is doubled, none is missing, nobody is left untold. */

import { simpleParser } from 'mailparser';
import MailComposer from 'nodemailer/lib/mail-composer';
import { expect, test } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { WORKSHOP as TO_WORKSHOP } from '../../../src/core/notices/notice/notice.js';
import { isReached } from '../../../src/core/states.js';
import { ServiceError } from '../../../src/errors.js';
import type { DueRow } from '../../../src/flow/due/listDue.js';
import { listDue } from '../../../src/flow/due/listDue.js';
import { addHours, addService, markUnit } from '../../../src/flow/facts/enterFacts.js';
import { listCalls } from '../../../src/flow/mail/listCalls.js';
import { mailOptions } from '../../../src/mail/mailOptions.js';
import type { OutgoingMail } from '../../../src/ports/mailer.js';
import { type Day, day } from '../../../src/units.js';
import { rideFile } from '../flowWorld.js';
import { RiderWorld, withWorkshop } from '../riderWorld.js';

const RIDERS = 20;
const DAYS = 56;
const START = day('2026-04-01');
const REFUSED = 'r4@example.org';

/** Invented: a fork and a shock on each of twenty bikes, at different stages of their service periods. */
const numbers = Array.from({ length: RIDERS }, (_, i) => i + 1);
const document = {
  ...withWorkshop({ closedDays: ['2026-04-03', '2026-04-06', '2026-05-01'] }),
  riders: numbers.map((n) => ({
    id: `r${n}`,
    name: `Rider ${n}`,
    email: n === 5 ? null : `r${n}@example.org`,
    phone: `+000 555 01${n}`,
    addressConfirmed: n !== 7,
  })),
  bikes: numbers.map((n) => ({ id: `b${n}`, rider: `r${n}`, name: `Bike number ${n}`, type: 'trail' })),
  units: numbers.flatMap((n) => [
    {
      tag: `F-${n}`,
      unitKind: 'fork',
      history: { terrainHours: 25 + n, movingHours: 25 + n, asOf: '2026-03-20' },
    },
    {
      tag: `A-${n}`,
      unitKind: 'air-shock',
      history: n % 6 === 0 ? 'unknown' : { terrainHours: n, movingHours: n, asOf: '2026-03-20' },
    },
  ]),
  fittings: numbers.flatMap((n) => [
    { unit: `F-${n}`, bike: `b${n}`, from: '2026-01-01' },
    { unit: `A-${n}`, bike: `b${n}`, from: '2026-01-01' },
  ]),
};

/** Rides of a rider on a day: some hand each over at once, some a fortnight together, some type their hours. */
const rides = (n: number, i: number): boolean => (n + i) % 3 === 0 && !(n === 9 && i > 14);
const wayOf = (n: number): 'at-once' | 'together' | 'by-hand' =>
  (['at-once', 'together', 'by-hand'] as const)[n % 3]!;
const MINUTES = 150;

class Season {
  readonly mailed: { readonly on: Day; readonly mail: OutgoingMail }[] = [];
  readonly late = new Map<number, Day[]>();
  constructor(readonly world: RiderWorld) {}

  async ride(n: number, i: number, on: Day): Promise<void> {
    const { flow, store } = this.world;
    const file = (day: Day) => rideFile(`${day}T10:00:00Z`, MINUTES, { made: `${n}` });
    const take = (day: Day) => flow.take(file(day), { name: `${day}.fit`, rider: `r${n}`, bike: `b${n}` });
    if (wayOf(n) === 'by-hand' && rides(n, i)) {
      const bikeId = await flow.id('bike', `b${n}`);
      const hours = { bikeId, on, minutes: MINUTES, ground: 'typical', note: null } as const;
      await store.write((tx) => addHours(tx, hours, flow.entry));
    }
    if (wayOf(n) === 'at-once' && rides(n, i)) await take(on);
    if (wayOf(n) !== 'together') return;
    const kept = [...(this.late.get(n) ?? []), ...(rides(n, i) ? [on] : [])];
    if (i % 14 !== 13) this.late.set(n, kept);
    else {
      for (const one of kept) await take(one);
      this.late.set(n, []);
    }
  }

  /** The bench serves what was told two weeks before, of every second rider. */
  async serve(on: Day): Promise<void> {
    const { flow, store } = this.world;
    for (const n of numbers.filter((one) => one % 2 === 0)) {
      const row = (await this.due()).find(({ unit, state }) => unit === `F-${n}` && isReached(state));
      if (!row) continue;
      const service = { unitId: row.unitId, serviceKind: row.serviceKind, on, by: 'here' as const };
      await store.write((tx) => addService(tx, { ...service, findings: null, note: null }, flow.entry));
    }
  }

  due(): Promise<DueRow[]> {
    return this.world.store.read((tx) => listDue(tx, this.world.flow.deps.clock.now()));
  }
}

const plain = (text: string): string => text.replace(/\s+/g, ' ');
const number = (value: number): string => String(Math.round(value * 10) / 10);

/** Holds what a reminder says of each unit against the ledger of that moment. */
function holdAgainst(text: string, rows: readonly DueRow[], rider: string): number {
  let held = 0;
  const said = plain(text.split('Last rides')[0] ?? text);
  const figures = [
    ...said.matchAll(/(?:Fork|Air shock): ([FA]-\d+).*?Terrain hours \(estimate\): ([\d.]+) of ([\d.]+) h/g),
    ...said.matchAll(/\b([FA]-\d+): terrain ([\d.]+) of ([\d.]+) h/g),
  ];
  for (const [, tag, hours, interval] of figures) {
    const matching = rows.filter(
      (row) =>
        row.unit === tag &&
        number(row.terrainHoursSince) === hours &&
        String(row.interval.terrainHours) === interval,
    );
    expect(matching.length, `${rider}: ${tag} ${hours} of ${interval} in ${said}`).toBeGreaterThan(0);
    held += 1;
  }
  for (const [, used, limit] of said.matchAll(/([\d.]+) of ([\d.]+) h \((?:terrain|moving) hours\)/g)) {
    expect(Number(used), said).toBeGreaterThanOrEqual(Number(limit) - 0.05);
    held += 1;
  }
  return held;
}

test('every mail is true on its day, none is doubled or missing, and nobody is left untold', {
  timeout: 600_000,
}, async () => {
  let season: Season | null = null;
  const mailer = {
    deliver: async (mail: OutgoingMail) => {
      if (mail.to.address === REFUSED)
        throw new ServiceError('mail-failed', '550 5.1.1 There is no such mailbox here.', {
          permanent: true,
        });
      season!.mailed.push({ on: today, mail });
    },
  };
  let today = START;
  const world = await RiderWorld.open({ now: `${START}T06:30:00Z`, document, mailer });
  season = new Season(world);
  let held = 0;
  let parsed = 0;
  for (let i = 0; i < DAYS; i += 1) {
    today = addDays(START, i);
    world.now = `${today}T06:30:00Z`;
    if (i === 20)
      await world.store.write(async (tx) =>
        markUnit(tx, await world.flow.id('unit', 'F-8'), true, 'a crack at the crown', world.flow.entry),
      );
    if (i === 22)
      await world.store.write(async (tx) =>
        markUnit(tx, await world.flow.id('unit', 'F-5'), true, 'bent', world.flow.entry),
      );
    const before = season.mailed.length;
    await world.beat();
    const rows = await season.due();
    for (const { mail } of season.mailed.slice(before)) {
      const composed = await new MailComposer(mailOptions(mail)).compile().build();
      const read = await simpleParser(composed);
      expect(read.subject).toBe(mail.subject);
      expect(plain(read.text ?? '')).toBe(plain(mail.text));
      expect(read.messageId).toMatch(/@example\.org>$/);
      parsed += 1;
      if (mail.to.address !== 'bench@example.org')
        held += holdAgainst(read.text ?? '', rows, mail.to.address);
    }
    await expectAllTold(world, rows, i);
    world.now = `${today}T18:00:00Z`;
    for (const n of numbers) await season.ride(n, i, today);
    if (i % 14 === 12) {
      await world.beat();
      await season.serve(today);
    }
  }
  const { mailed } = season;
  const toRiders = mailed.filter(({ mail }) => mail.to.address !== 'bench@example.org');
  expect(toRiders.length).toBeGreaterThan(20);
  expect(held).toBeGreaterThan(20);
  expect(parsed).toBe(
    mailed.length - mailed.filter(({ mail }) => mail.date % 86_400_000 > 64_000_000).length,
  );
  // At most one reminder a day for each rider; stop riding stands outside.
  const days = toRiders
    .filter(({ mail }) => !mail.subject.startsWith('Do not ride'))
    .map(({ on, mail }) => `${mail.to.address} ${on}`);
  expect(new Set(days).size).toBe(days.length);
  expect(new Set(mailed.map(({ mail }) => mail.messageId)).size).toBe(mailed.length);
  const stops = toRiders.filter(({ mail }) => mail.subject.startsWith('Do not ride'));
  expect(stops.map(({ mail }) => mail.to.address)).toEqual(['r8@example.org']);
  const unsure = toRiders.filter(({ mail }) => mail.to.address === 'r7@example.org');
  expect(unsure.map(({ mail }) => mail.subject)).toEqual(['Test bench: is this address yours?']);
});

/** Whatever is reached was told to its rider, waits to be, or is a call to make. */
async function expectAllTold(world: RiderWorld, rows: readonly DueRow[], i: number): Promise<void> {
  const now = world.flow.deps.clock.now();
  const { notices, mails, calls } = await world.store.read(async (tx) => ({
    notices: await tx.notices.list(),
    mails: new Map((await tx.mails.list()).map((mail) => [mail.id, mail.state])),
    calls: await listCalls(tx, now),
  }));
  const keys = notices
    .filter(({ withdrawnAt }) => withdrawnAt === null)
    .map(({ to, unitId, serviceKind, periodId, state, occasion, cause }) =>
      JSON.stringify([to, unitId, serviceKind, periodId, state, occasion, cause]),
    );
  expect(new Set(keys).size, `doubled on day ${i}`).toBe(keys.length);
  for (const row of rows.filter(({ state }) => isReached(state) || state === 'stop-riding')) {
    if (row.riderId === null) continue;
    const isAbout = ({ to, unitId, state }: (typeof notices)[number]): boolean =>
      to === row.riderId && unitId === row.unitId && state === row.state;
    const isToldOrWaits = notices.some(
      (one) =>
        isAbout(one) &&
        ['handed-over', 'waiting'].includes(mails.get(one.mailId) ?? '') &&
        one.to !== TO_WORKSHOP,
    );
    const isCall = calls.some((call) => call.riderId === row.riderId && call.unitId === row.unitId);
    expect(isToldOrWaits || isCall, `day ${i}: ${row.unit} ${row.serviceKind} ${row.state}`).toBe(true);
  }
}
