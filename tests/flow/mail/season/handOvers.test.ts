/** A season in which riders hand over daily, weekly or every four weeks, go away, and rest: who is told what, how often. */
import { expect, test } from 'vitest';
import { seededRandom } from '../../../../src/core/chance/seededRandom.js';
import { addDays, daysBetween } from '../../../../src/core/days/calendar.js';
import { isReached } from '../../../../src/core/states.js';
import { ServiceError } from '../../../../src/errors.js';
import { type DueRow, listDue } from '../../../../src/flow/due/listDue.js';
import { addService } from '../../../../src/flow/facts/enterFacts.js';
import { listCalls } from '../../../../src/flow/mail/listCalls.js';
import type { OutgoingMail } from '../../../../src/ports/mailer.js';
import type { NoticeRow } from '../../../../src/ports/notices.js';
import { type Day, day } from '../../../../src/units.js';
import { DOCUMENT, FlowWorld, rideFile } from '../../flowWorld.js';

const START = day('2026-04-01');
const DAYS = 112;
const EVERY = [1, 7, 28] as const;
const AWAY = { from: 45, to: 70 };
const numbers = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
/** Those whom no mail reaches: no address, one that is not confirmed, one that is refused. */
const NO_ADDRESS = 4;
const UNCONFIRMED = 8;
const REFUSED = 12;

const document = {
  ...DOCUMENT,
  riders: numbers.map((n) => ({
    id: `r${n}`,
    name: `Rider ${n}`,
    email: n === NO_ADDRESS ? null : `r${n}@example.org`,
    phone: `+000 555 01${n}`,
    addressConfirmed: n !== UNCONFIRMED,
  })),
  bikes: numbers.map((n) => ({ id: `b${n}`, rider: `r${n}`, name: `Bike ${n}`, type: 'trail' })),
  units: numbers.map((n) => ({ tag: `F-${n}`, unitKind: 'fork', history: 'new' })),
  fittings: numbers.map((n) => ({ unit: `F-${n}`, bike: `b${n}`, from: '2026-01-01' })),
  intervals: [
    { unitKind: 'fork', serviceKind: 'lower-leg', terrainHours: 24, months: null, movingHoursCeiling: 40 },
  ],
};

/** Invented: rides of an hour and a half, two or three a week. The fourth of four rests while away, the third rides on. */
class Rider {
  readonly everyDays: number;
  /** The days on which files of this rider came. */
  readonly came: Day[] = [];
  readonly #random: () => number;
  readonly #kept: Day[] = [];
  constructor(readonly n: number) {
    this.everyDays = EVERY[n % EVERY.length]!;
    this.#random = seededRandom(`rider ${n}`);
  }

  /** Rides or not; returns the days whose rides are handed over on the evening. */
  live(i: number): readonly Day[] {
    const isAway = i >= AWAY.from && i < AWAY.to;
    const isRiding = this.#random() < 0.36 && !(isAway && this.n % 4 === 3);
    if (isRiding) this.#kept.push(addDays(START, i));
    if (i % this.everyDays !== this.n % this.everyDays || (isAway && this.n % 4 === 2)) return [];
    if (this.#kept.length > 0) this.came.push(addDays(START, i));
    return this.#kept.splice(0);
  }
}

interface Told {
  readonly notices: readonly NoticeRow[];
  readonly sent: ReadonlySet<string>;
  readonly calls: readonly { readonly riderId: string; readonly unitId: string }[];
}

const toldIn = (world: FlowWorld): Promise<Told> =>
  world.deps.store.read(async (tx) => ({
    notices: await tx.notices.list(),
    sent: new Set(
      (await tx.mails.list())
        .filter(({ state }) => state === 'handed-over' || state === 'waiting')
        .map(({ id }) => id),
    ),
    calls: await listCalls(tx, world.deps.clock.now()),
  }));

const isTold = (row: DueRow, { notices, sent, calls }: Told): boolean =>
  calls.some(({ unitId }) => unitId === row.unitId) ||
  notices.some(
    (one) =>
      one.to === row.riderId &&
      one.unitId === row.unitId &&
      one.serviceKind === row.serviceKind &&
      one.state === row.state &&
      sent.has(one.mailId),
  );

test('coming up is told once and repeated once in a period; due and over are told, or named to the workshop', {
  timeout: 300_000,
}, async () => {
  const world = await FlowWorld.open(`${START}T06:30:00Z`, document);
  const mailer = {
    deliver: async (mail: OutgoingMail) => {
      if (mail.to.address === `r${REFUSED}@example.org`)
        throw new ServiceError('mail-failed', '550 5.1.1 There is no such mailbox.', { permanent: true });
    },
  };
  Object.assign(world.deps, { mailer });
  const riders = numbers.map((n) => new Rider(n));
  const rank = { 'in-time': 0, 'coming-up': 1, due: 2, 'over-interval': 3 } as Record<string, number>;
  const highest = new Map<string, number>();
  const reachedSince = new Map<string, number>();
  let [periods, reached, untold] = [0, 0, 0];
  for (let i = 0; i < DAYS; i++) {
    const today = addDays(START, i);
    world.now = `${today}T08:00:00Z`;
    await world.mail();
    const rows = await world.deps.store.read((tx) => listDue(tx, world.deps.clock.now()));
    const told = await toldIn(world);
    for (const row of rows.filter(({ serviceKind }) => serviceKind === 'lower-leg')) {
      // Nothing but a service takes a state back: no date that moves, no file that comes late.
      const was = highest.get(row.unit) ?? 0;
      expect(rank[row.state]!, `${row.unit} on day ${i}`).toBeGreaterThanOrEqual(was);
      highest.set(row.unit, rank[row.state]!);
      if (!isReached(row.state)) continue;
      reached += 1;
      if (!isTold(row, told)) untold += 1;
      const since = reachedSince.get(row.unit) ?? i;
      reachedSince.set(row.unit, since);
      // Every second unit is seen to after nine days; the others are ridden on until they are over.
      const isServed =
        row.state === 'over-interval' || (Number(row.unit.slice(2)) % 2 === 0 && i >= since + 9);
      if (!isServed || i < since + 3) continue;
      const service = { unitId: row.unitId, serviceKind: row.serviceKind, on: today, by: 'here' as const };
      await world.deps.store.write((tx) =>
        addService(tx, { ...service, findings: null, note: null }, world.entry),
      );
      highest.delete(row.unit);
      reachedSince.delete(row.unit);
      periods += 1;
    }
    world.now = `${today}T20:00:00Z`;
    for (const rider of riders)
      for (const on of rider.live(i))
        await world.take(rideFile(`${on}T10:00:00Z`, 90, { made: rider.n }), {
          name: `${on}.fit`,
          rider: `r${rider.n}`,
          bike: `b${rider.n}`,
        });
  }
  expect(untold, `${untold} of ${reached} days on which a unit was due or over`).toBe(0);
  expect(reached).toBeGreaterThan(100);
  expect(periods).toBeGreaterThan(10);
  const { notices } = await toldIn(world);
  const toRiders = notices.filter(({ to, periodId }) => to !== 'workshop' && periodId !== null);
  const ofPeriods = new Map<string, NoticeRow[]>();
  for (const one of toRiders) {
    const period = `${one.unitId} ${one.serviceKind} ${one.periodId}`;
    ofPeriods.set(period, [...(ofPeriods.get(period) ?? []), one]);
  }
  expect(ofPeriods.size).toBeGreaterThan(15);
  for (const [period, ones] of ofPeriods) {
    const occasions = ones.filter(({ state }) => state === 'coming-up').map(({ occasion }) => occasion);
    // No fact took a reason away, so nothing was told again.
    expect([[], ['first'], ['first', 'repeat']], period).toContainEqual(occasions.sort());
    expect(ones.length, period).toBeLessThanOrEqual(4);
  }
  // Asked about silence are only those who rested or handed nothing over, after three weeks without a file of theirs.
  const silences = notices.filter(({ occasion }) => occasion === 'silence');
  expect(silences.length).toBeGreaterThan(0);
  for (const rider of riders) {
    const id = await world.id('rider', `r${rider.n}`);
    for (const { decidedAt } of silences.filter(({ to }) => to === id)) {
      expect([2, 3], `rider ${rider.n}`).toContain(rider.n % 4);
      const before = rider.came.filter((on) => Date.parse(on) < decidedAt).at(-1)!;
      expect(daysBetween(before, day(new Date(decidedAt).toISOString().slice(0, 10)))).toBeGreaterThanOrEqual(
        21,
      );
    }
  }
  await world.expectSound();
});
