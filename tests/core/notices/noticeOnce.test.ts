import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dayOf } from '../../../src/core/days/calendar.js';
import { type MailKind, type NoticeRider, WORKSHOP } from '../../../src/core/notices/notice/notice.js';
import { STATES } from '../../../src/core/tokens.js';
import { day, HOUR_MS, type Instant } from '../../../src/units.js';
import { at, ZONE } from '../ledger/ledgerBuilders.js';
import { NoticeWorld, riderOf, subjectOf } from './noticeWorld.js';

const KINDS = ['lower-leg', 'damper', 'full'];
/** Of these one goes a day. */
const FOLLOWED: readonly MailKind[] = ['reminder', 'silence', 'invitation'];
const START = at('2025-03-20T05:00:00Z');

const unitChange = fc.record({
  kind: fc.constant('unit' as const),
  unit: fc.nat(2),
  state: fc.constantFrom(...STATES),
  jobs: fc.subarray(KINDS, { minLength: 1 }),
  period: fc.nat(2),
  rider: fc.constantFrom('r1', 'r2', null),
  mark: fc.nat(2),
  isAnswered: fc.boolean(),
});
const riderChange = fc.record({
  kind: fc.constant('rider' as const),
  id: fc.constantFrom('r1', 'r2'),
  address: fc.constantFrom('confirmed', 'confirmed', 'confirmed', 'unconfirmed', 'refused', 'none'),
  isUnsubscribed: fc.constantFrom(false, false, false, true),
  silentSince: fc.constantFrom(null, '2025-03-01', '2025-03-10'),
});
const invited = fc.record({
  kind: fc.constant('invited' as const),
  unit: fc.nat(3),
  rider: fc.constantFrom('r1', 'r2'),
  isOpen: fc.constantFrom(true, true, false),
});
/** The clock may run backwards, over the change of the clocks too. */
const clock = fc.record({ kind: fc.constant('clock' as const), hours: fc.integer({ min: -60, max: 600 }) });
const step = fc.oneof(
  unitChange,
  unitChange,
  riderChange,
  invited,
  clock,
  clock,
  fc.record({ kind: fc.constant('deliver' as const) }),
  /** A process that dies after the relay took the mail and before that was noted. */
  fc.record({ kind: fc.constant('die while sending' as const) }),
);
type Step = typeof step extends fc.Arbitrary<infer T> ? T : never;

class Play {
  readonly world = new NoticeWorld();
  now: Instant = START;
  readonly #units = new Map<number, ReturnType<typeof subjectOf>[]>();
  readonly #riders = new Map<string, NoticeRider>([
    ['r1', riderOf('r1')],
    ['r2', riderOf('r2')],
  ]);

  take(next: Step): void {
    const { world } = this;
    if (next.kind === 'clock') this.now = (this.now + next.hours * HOUR_MS) as Instant;
    if (next.kind === 'unit') {
      const { unit, state, jobs, period, rider: riderId, mark, isAnswered } = next;
      this.#units.set(
        unit,
        jobs.map((serviceKind) =>
          subjectOf(state, {
            unitId: `u${unit}`,
            serviceKind,
            periodId: `s${period}`,
            riderId,
            markId: `m${mark}`,
            answer: isAnswered ? { at: this.now, quietUntil: null } : null,
          }),
        ),
      );
      world.subjects = [...this.#units.values()].flat();
    }
    if (next.kind === 'rider') {
      const { id, address, isUnsubscribed, silentSince } = next;
      const silence = silentSince === null ? null : { since: day(silentSince), days: 30 };
      this.#riders.set(id, riderOf(id, { address, isUnsubscribed, silence }));
    }
    if (next.kind === 'invited') {
      const { unit, rider: riderId, isOpen } = next;
      const others = world.invitations.filter(({ unitId }) => unitId !== `u${unit}`);
      world.invitations = [...others, { unitId: `u${unit}`, before: day('2026-04-01'), riderId, isOpen }];
    }
    world.riders = [...this.#riders.values()];
    if (next.kind === 'die while sending') world.tryInVain(new Date(this.now).toISOString());
    if (next.kind === 'deliver') world.deliver(this.now);
    this.decide();
  }

  /** Deciding again at once, as after a crash, changes nothing. */
  decide(): void {
    this.world.decide(this.now);
    const again = this.world
      .preview(this.now)
      .filter((one) => one.decision !== 'already' && one.decision !== 'hold');
    expect(again).toEqual([]);
  }
}

const schedules = fc.array(step, { minLength: 15, maxLength: 45, size: 'max' });
const play = (steps: readonly Step[]): Play => {
  const game = new Play();
  for (const one of steps) game.take(one);
  return game;
};

test('nothing is told twice, through crashes, changes of mind and clocks that run backwards', () => {
  let told = 0;
  fc.assert(
    fc.property(schedules, (steps) => {
      const { world } = play(steps);
      told += world.past.length;
      expect(world.doubles()).toEqual([]);
    }),
    { numRuns: 100 },
  );
  expect(told).toBeGreaterThan(400);
});

test('a rider has at most one reminder, question or invitation a day, three reminders a service period, and never an unknown history alone', () => {
  fc.assert(
    fc.property(schedules, (steps) => {
      const { world } = play(steps);
      const sent = world.past.filter((one) => one.settledAt !== null && one.to !== WORKSHOP);
      const asked = sent.filter((one) => FOLLOWED.includes(one.mail));
      const mails = new Map(asked.map((one) => [`${one.to} ${one.mail} ${one.day}`, one]));
      const days = [...mails.values()].map((one) => `${one.to} ${one.day}`);
      expect(new Set(days).size).toBe(days.length);
      const inPeriod = new Map<string, Set<string>>();
      for (const one of sent.filter((notice) => notice.mail === 'reminder')) {
        const key = [one.to, one.unitId, one.serviceKind, one.periodId].join(' ');
        inPeriod.set(key, (inPeriod.get(key) ?? new Set()).add(one.day));
        const company = sent.some(
          (other) =>
            other.to === one.to &&
            other.mail === 'reminder' &&
            other.day === one.day &&
            other.state !== 'history-unknown',
        );
        expect(company).toBe(true);
      }
      for (const reminded of inPeriod.values()) expect(reminded.size).toBeLessThanOrEqual(3);
    }),
    { numRuns: 100 },
  );
});

test('while the clock runs forward, a rider’s mails leave on different days, however late', () => {
  const forward = schedules.map((steps) =>
    steps.map((one) => (one.kind === 'clock' ? { ...one, hours: Math.abs(one.hours) } : one)),
  );
  fc.assert(
    fc.property(forward, (steps) => {
      const { world } = play(steps);
      const mails = new Map<string, string>();
      for (const one of world.past) {
        if (one.settledAt === null || !FOLLOWED.includes(one.mail)) continue;
        mails.set(`${one.to} ${one.mail} ${one.day}`, `${one.to} ${dayOf(one.settledAt, ZONE)}`);
      }
      expect(new Set(mails.values()).size).toBe(mails.size);
    }),
    { numRuns: 100 },
  );
});

test('nobody hears of rides before confirming the address, and nothing waits whose reason has gone', () => {
  fc.assert(
    fc.property(schedules, (steps) => {
      const { world } = play(steps);
      for (const one of world.past.filter((notice) => notice.status === 'queued')) {
        const rider = world.riders.find((other) => other.id === one.to);
        if (rider && rider.address !== 'confirmed') expect(one.occasion).toBe('confirm-address');
        if (one.state !== 'stop-riding') expect(rider?.isUnsubscribed ?? false).toBe(false);
        if (one.state === null) continue;
        const subject = world.subjects.find(
          ({ standing }) =>
            standing.unitId === one.unitId &&
            (one.state === 'stop-riding' || standing.serviceKind === one.serviceKind),
        );
        expect(subject?.standing.state).toBe(one.state);
      }
    }),
    { numRuns: 100 },
  );
});
