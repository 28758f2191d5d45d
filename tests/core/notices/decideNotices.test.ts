import { describe, expect, test } from 'vitest';
import { addDays, atHour } from '../../../src/core/days/calendar.js';
import { WORKSHOP } from '../../../src/core/notices/notice/notice.js';
import { silenceOf } from '../../../src/core/notices/notice/silence.js';
import { DAY_MS, day, type Instant, isoTime } from '../../../src/units.js';
import { at, likelyOf, ZONE } from '../ledger/ledgerBuilders.js';
import { briefly, NoticeWorld, riderOf, sentBriefly, subjectOf } from './noticeWorld.js';

/** Tuesday in summer: 07:00 in Lisbon is 06:00 UTC. */
const MORNING = '2025-06-10T06:00:00Z';
const EVENING = '2025-06-10T17:30:00Z';
const NEXT_MORNING = '2025-06-11T06:00:00Z';
const later = (days: number, from = MORNING): Instant => (at(from) + days * DAY_MS) as Instant;

describe('who hears of which state', () => {
  test('a job that is nearly due joins the visit of another, and is no reason to tell', () => {
    const joining = subjectOf('in-time', { serviceKind: 'damper', hoursLeft: 1, restarts: ['damper'] });
    const told = sentBriefly(new NoticeWorld(subjectOf('due'), joining).day(MORNING));
    expect(told).toEqual(['workshop lower-leg due first', 'r1 lower-leg due first']);
  });

  test.each(['coming-up', 'due', 'over-interval'] as const)('%s: rider and workshop, once', (state) => {
    const world = new NoticeWorld(subjectOf(state));
    expect(sentBriefly(world.day(MORNING))).toEqual([
      `workshop lower-leg ${state} first`,
      `r1 lower-leg ${state} first`,
    ]);
    expect(briefly(world.decide(NEXT_MORNING))).toEqual([
      `already workshop lower-leg ${state} first`,
      `already r1 lower-leg ${state} first`,
    ]);
  });

  test.each(['in-time', 'on-the-bench'] as const)('%s: nobody', (state) => {
    expect(new NoticeWorld(subjectOf(state)).decide(MORNING)).toEqual([]);
  });

  test('a unit on nobody’s bike: the workshop alone', () => {
    expect(sentBriefly(new NoticeWorld(subjectOf('due', { riderId: null })).day(MORNING))).toEqual([
      'workshop lower-leg due first',
    ]);
  });

  test('stop riding: both at once, whatever the hour, one for the unit, and again for another mark', () => {
    const marked = (markId: string) =>
      ['lower-leg', 'damper', 'full'].map((serviceKind) => subjectOf('stop-riding', { serviceKind, markId }));
    const world = new NoticeWorld(...marked('m1'));
    world.workshop = { ...world.workshop, openDays: [] };
    expect(sentBriefly(world.day('2025-06-10T22:41:00Z'))).toEqual([
      'workshop full stop-riding first',
      'r1 full stop-riding first',
    ]);
    expect(world.day(NEXT_MORNING)).toEqual([]);
    world.subjects = [subjectOf('in-time')];
    world.decide(NEXT_MORNING);
    world.subjects = marked('m2');
    expect(sentBriefly(world.day(NEXT_MORNING))).toEqual([
      'workshop full stop-riding again',
      'r1 full stop-riding again',
    ]);
  });

  test('a service logged under a standing mark does not tell of the mark twice', () => {
    const world = new NoticeWorld(subjectOf('stop-riding', { markId: 'm1' }));
    world.day(MORNING);
    world.subjects = [subjectOf('stop-riding', { markId: 'm1', periodId: 's1' })];
    expect(world.day(EVENING)).toEqual([]);
  });
});

describe('an unknown history', () => {
  const unknown = ['lower-leg', 'damper', 'full'].map((serviceKind) =>
    subjectOf('history-unknown', { serviceKind, unitId: 'u2' }),
  );

  test('goes to the workshop once for the unit, and never alone to the rider', () => {
    const world = new NoticeWorld(...unknown);
    expect(sentBriefly(world.day(MORNING))).toEqual(['workshop full history-unknown first']);
    expect(world.day(NEXT_MORNING)).toEqual([]);
  });

  test('goes along with another reminder, once', () => {
    const world = new NoticeWorld(...unknown, subjectOf('due'));
    expect(sentBriefly(world.day(MORNING))).toEqual([
      'workshop lower-leg due first',
      'r1 lower-leg due first',
      'workshop full history-unknown first',
      'r1 full history-unknown first',
    ]);
    world.subjects = [...unknown, subjectOf('over-interval')];
    expect(sentBriefly(world.day(NEXT_MORNING))).toEqual([
      'workshop lower-leg over-interval first',
      'r1 lower-leg over-interval first',
    ]);
  });

  test('stays behind when what it went with is withdrawn', () => {
    const world = new NoticeWorld(...unknown, subjectOf('due'));
    world.decide(EVENING);
    world.subjects = unknown;
    const decisions = world.decide(EVENING);
    expect(briefly(decisions).filter((one) => one.includes('r1'))).toEqual([
      'withdraw r1 lower-leg due first',
      'withdraw r1 full history-unknown first',
      'hold r1 full history-unknown first',
      'hold r1 damper history-unknown first',
      'hold r1 lower-leg history-unknown first',
    ]);
    expect(sentBriefly(world.deliver(NEXT_MORNING))).toEqual(['workshop full history-unknown first']);
  });
});

describe('a reason that goes', () => {
  test('serviced at 18:30 with a mail waiting for 07:00: withdrawn', () => {
    const world = new NoticeWorld(subjectOf('due', { unitId: 'u1' }));
    world.day(MORNING);
    world.subjects = [...world.subjects, subjectOf('due', { unitId: 'u2' })];
    const queued = world.decide('2025-06-10T15:00:00Z').filter((one) => one.decision === 'queue');
    expect(queued.map((one) => isoTime(one.slot!.sendAt))).toEqual([NEXT_MORNING, NEXT_MORNING]);
    world.subjects = [
      subjectOf('due', { unitId: 'u1' }),
      subjectOf('in-time', { unitId: 'u2', periodId: 's1' }),
    ];
    const withdrawn = world.decide(EVENING).filter((one) => one.decision === 'withdraw');
    expect(briefly(withdrawn)).toEqual([
      'withdraw workshop lower-leg due first',
      'withdraw r1 lower-leg due first',
    ]);
    expect(world.day(NEXT_MORNING)).toEqual([]);
  });

  test('a waiting "coming up" gives way to "due"', () => {
    const world = new NoticeWorld(subjectOf('coming-up'));
    world.decide(EVENING);
    world.subjects = [subjectOf('due')];
    expect(sentBriefly(world.day(NEXT_MORNING))).toEqual([
      'workshop lower-leg due first',
      'r1 lower-leg due first',
    ]);
  });

  test('moved to another rider’s bike: the first is not told, the second is', () => {
    const world = new NoticeWorld(subjectOf('due'));
    world.riders = [riderOf('r1'), riderOf('r2')];
    world.decide(EVENING);
    world.subjects = [subjectOf('due', { riderId: 'r2' })];
    world.decide(EVENING);
    expect(sentBriefly(world.deliver(NEXT_MORNING))).toEqual([
      'workshop lower-leg due first',
      'r2 lower-leg due first',
    ]);
  });

  test('withdrawn unsent, it frees its place', () => {
    const world = new NoticeWorld(subjectOf('due'));
    world.decide(EVENING);
    world.subjects = [subjectOf('in-time')];
    world.decide(EVENING);
    world.subjects = [subjectOf('due')];
    expect(sentBriefly(world.day(NEXT_MORNING))).toHaveLength(2);
    expect(world.past.filter((one) => one.status === 'handed-over').map((one) => one.occasion)).toEqual([
      'first',
      'first',
    ]);
  });

  test('sent and gone, it is told again when it returns, and no third time', () => {
    const world = new NoticeWorld(subjectOf('due'));
    world.day(MORNING);
    const returns = (days: number) => {
      world.subjects = [subjectOf('in-time')];
      world.decide(later(days));
      world.subjects = [subjectOf('due')];
      return sentBriefly(world.day(later(days + 1)));
    };
    expect(returns(1)).toEqual(['workshop lower-leg due again', 'r1 lower-leg due again']);
    expect(returns(3)).toEqual([]);
  });

  test('a voided service brings its old period back: again, not first', () => {
    const world = new NoticeWorld(subjectOf('due'));
    world.day(MORNING);
    world.subjects = [subjectOf('in-time', { periodId: 's1' })];
    world.decide(EVENING);
    world.subjects = [subjectOf('due')];
    expect(sentBriefly(world.day(NEXT_MORNING))).toContain('r1 lower-leg due again');
  });

  test('worse is not gone: from coming up to due and back tells nothing a second time', () => {
    const world = new NoticeWorld(subjectOf('coming-up'));
    world.day(MORNING);
    world.subjects = [subjectOf('due')];
    world.day(later(1));
    world.subjects = [subjectOf('coming-up')];
    expect(world.day(later(2))).toEqual([]);
  });

  test('a mail that was tried may have arrived: withdrawn, it keeps its place', () => {
    const world = new NoticeWorld(subjectOf('due'));
    world.decide(EVENING);
    world.tryInVain(NEXT_MORNING);
    world.subjects = [subjectOf('in-time')];
    world.decide('2025-06-11T06:05:00Z');
    world.subjects = [subjectOf('due')];
    world.decide('2025-06-11T06:10:00Z');
    expect(sentBriefly(world.deliver(later(2)))).toEqual([
      'workshop lower-leg due again',
      'r1 lower-leg due again',
    ]);
  });
});

describe('repeat', () => {
  test('of "coming up" to the rider, once, after 21 unanswered days', () => {
    const world = new NoticeWorld(subjectOf('coming-up'));
    world.day(MORNING);
    expect(world.day(later(20))).toEqual([]);
    expect(sentBriefly(world.day(later(21)))).toEqual(['r1 lower-leg coming-up repeat']);
    expect(world.day(later(60))).toEqual([]);
  });

  test('not where the rider answered, and not of "due"', () => {
    const answered = new NoticeWorld(subjectOf('coming-up'));
    answered.day(MORNING);
    answered.subjects = [subjectOf('coming-up', { answer: { at: later(3), quietUntil: null } })];
    expect(answered.day(later(30))).toEqual([]);
    const due = new NoticeWorld(subjectOf('due'));
    due.day(MORNING);
    expect(due.day(later(30))).toEqual([]);
  });

  test('a waiting repeat is withdrawn when the rider answers', () => {
    const world = new NoticeWorld(subjectOf('coming-up'));
    world.day(MORNING);
    world.decide((later(21) + 3_600_000) as Instant);
    world.subjects = [subjectOf('coming-up', { answer: { at: later(21.5), quietUntil: null } })];
    expect(briefly(world.decide(later(21.6)))).toContain('withdraw r1 lower-leg coming-up repeat');
  });
});

describe('what a rider’s mail says', () => {
  const jobs = (full: Parameters<typeof subjectOf>[0], hoursLeft: number) => [
    subjectOf('due', { hoursLeft: 0 }),
    subjectOf(full, {
      serviceKind: 'full',
      hoursLeft,
      likely: likelyOf('2026-06-01'),
      interval: { terrainHours: 200, months: null, movingHoursCeiling: null, rule: 'kind' },
    }),
  ];

  test('a near larger job is offered with the notice of the smaller', () => {
    const world = new NoticeWorld(...jobs('in-time', 30));
    expect(world.decide(MORNING).map((one) => one.offer)).toEqual(['full', 'full']);
    const far = new NoticeWorld(...jobs('in-time', 90));
    expect(far.decide(MORNING).map((one) => one.offer)).toEqual([null, null]);
  });

  test('one item for the unit: a larger job that is due itself holds the smaller', () => {
    const world = new NoticeWorld(...jobs('due', -1));
    expect(briefly(world.decide(MORNING)).sort()).toEqual([
      'hold r1 lower-leg due first',
      'queue r1 full due first',
      'queue workshop full due first',
      'queue workshop lower-leg due first',
    ]);
  });

  test('a booked day or "later" keeps quiet until then', () => {
    const answer = { at: later(-1), quietUntil: day('2025-06-20') };
    const world = new NoticeWorld(subjectOf('due', { answer }));
    expect(sentBriefly(world.day(MORNING))).toEqual(['workshop lower-leg due first']);
    expect(world.day(later(9))).toEqual([]);
    expect(sentBriefly(world.day(later(10)))).toEqual(['r1 lower-leg due first']);
  });
});

describe('addresses', () => {
  test('an unconfirmed one is asked for confirmation only, once, then told', () => {
    const world = new NoticeWorld(subjectOf('due'));
    world.riders = [riderOf('r1', { address: 'unconfirmed' })];
    expect(sentBriefly(world.day(MORNING))).toEqual([
      'workshop lower-leg due first',
      'r1 - - confirm-address',
    ]);
    expect(world.day(later(5))).toEqual([]);
    world.riders = [riderOf('r1')];
    expect(sentBriefly(world.day(later(6)))).toEqual(['r1 lower-leg due first']);
  });

  test('a new address is asked again; without anything to tell nobody is asked', () => {
    const world = new NoticeWorld(subjectOf('due'));
    world.riders = [riderOf('r1', { address: 'unconfirmed' })];
    world.day(MORNING);
    world.riders = [riderOf('r1', { address: 'unconfirmed', addressId: 'another' })];
    expect(sentBriefly(world.day(later(1)))).toEqual(['r1 - - confirm-address']);
    for (const state of ['in-time', 'history-unknown'] as const) {
      const idle = new NoticeWorld(subjectOf(state));
      idle.riders = world.riders;
      expect(sentBriefly(idle.day(MORNING)).filter((one) => one.startsWith('r1'))).toEqual([]);
    }
  });

  test.each([
    ['unsubscribed', { isUnsubscribed: true }],
    ['refused', { address: 'refused' }],
    ['missing', { address: 'none' }],
  ] as const)('%s: held with whom to call, and what waited is withdrawn', (_, rider) => {
    const world = new NoticeWorld(subjectOf('due'));
    world.decide(EVENING);
    world.riders = [riderOf('r1', rider)];
    const decisions = world.decide(EVENING).filter((one) => one.to === 'r1');
    expect(decisions.map((one) => one.decision)).toEqual(['withdraw', 'hold']);
    expect(decisions[1]!.reason).toMatch(/call (them|this rider)/);
    const isRefused = 'address' in rider && rider.address === 'refused';
    expect(sentBriefly(world.day(NEXT_MORNING))).toEqual([
      'workshop lower-leg due first',
      ...(isRefused ? ['workshop - - call-rider'] : []),
    ]);
  });

  test('refused: the workshop is told once for an address to call', () => {
    const world = new NoticeWorld();
    world.riders = [riderOf('r1', { address: 'refused' })];
    expect(sentBriefly(world.day(NEXT_MORNING))).toEqual(['workshop - - call-rider']);
    expect(sentBriefly(world.day('2025-06-12T08:00:00Z'))).toEqual([]);
    world.riders = [riderOf('r1', { address: 'refused', addressId: 'another address' })];
    expect(sentBriefly(world.day('2025-06-13T08:00:00Z'))).toEqual(['workshop - - call-rider']);
  });
});

describe('how many mails', () => {
  test('one a rider a day, gathering what is due then', () => {
    const world = new NoticeWorld(subjectOf('due'), subjectOf('coming-up', { unitId: 'u2' }));
    world.decide('2025-06-10T04:00:00Z');
    world.subjects = [...world.subjects, subjectOf('due', { unitId: 'u3' })];
    world.decide('2025-06-10T05:59:00Z');
    const mails = new Set(world.past.filter((one) => one.to === 'r1').map((one) => `${one.mail} ${one.day}`));
    expect([...mails]).toEqual(['reminder 2025-06-10']);
    world.deliver(MORNING);
    world.subjects = [...world.subjects, subjectOf('due', { unitId: 'u4' })];
    const next = world.decide(EVENING).filter((one) => one.decision === 'queue');
    expect(next.map((one) => isoTime(one.slot!.sendAt))).toEqual([NEXT_MORNING, NEXT_MORNING]);
  });

  test('once the hour has passed, today’s mail goes at once', () => {
    const world = new NoticeWorld(subjectOf('due'));
    expect(sentBriefly(world.day(EVENING))).toHaveLength(2);
  });

  test('a mail still on its way lets no second one go', () => {
    const world = new NoticeWorld(subjectOf('due'));
    world.decide(MORNING);
    world.tryInVain(MORNING);
    world.subjects = [...world.subjects, subjectOf('due', { unitId: 'u2' })];
    const held = world.decide(later(1)).filter((one) => one.unitId === 'u2');
    expect(held.map((one) => one.decision)).toEqual(['hold', 'hold']);
    world.deliver((later(1) + 7_200_000) as Instant);
    const freed = world.decide((later(1) + 7_300_000) as Instant).filter((one) => one.decision === 'queue');
    expect(freed.map((one) => one.slot!.day)).toEqual(['2025-06-12', '2025-06-12']);
  });

  test('four in a service period: coming up, its repeat, due and over; more is a call of the workshop', () => {
    const world = new NoticeWorld(subjectOf('coming-up'));
    const toRider = (days: number): string[] =>
      sentBriefly(world.day(later(days))).filter((one) => one.startsWith('r1'));
    expect(toRider(0)).toEqual(['r1 lower-leg coming-up first']);
    expect(toRider(21)).toEqual(['r1 lower-leg coming-up repeat']);
    // A fact takes the reason away, and it returns.
    world.subjects = [subjectOf('in-time')];
    expect(toRider(25)).toEqual([]);
    world.subjects = [subjectOf('coming-up')];
    const held = world.decide(later(27)).find((one) => one.to === 'r1')!;
    expect(held).toMatchObject({ decision: 'hold', reason: expect.stringContaining('call this rider') });
    world.subjects = [subjectOf('due')];
    expect(toRider(30)).toEqual(['r1 lower-leg due first']);
    world.subjects = [subjectOf('over-interval')];
    expect(toRider(50)).toEqual(['r1 lower-leg over-interval first']);
    world.subjects = [subjectOf('coming-up', { periodId: 's1' })];
    expect(toRider(100)).toEqual(['r1 lower-leg coming-up first']);
  });

  test('an again takes the place of the repeat', () => {
    const world = new NoticeWorld(subjectOf('coming-up'));
    world.day(MORNING);
    world.subjects = [subjectOf('in-time')];
    world.day(later(3));
    world.subjects = [subjectOf('coming-up')];
    expect(sentBriefly(world.day(later(6)))).toContain('r1 lower-leg coming-up again');
    expect(world.day(later(60)).filter((one) => one.to === 'r1')).toEqual([]);
  });

  test('a bound on reminders a day lets the most pressing go first, and the rest on the days after', () => {
    const states = ['coming-up', 'over-interval', 'due', 'coming-up', 'coming-up'] as const;
    const world = new NoticeWorld(
      ...states.map((state, i) => subjectOf(state, { unitId: `u${i}`, riderId: `r${i}` })),
    );
    world.riders = states.map((_, i) => riderOf(`r${i}`));
    world.reminderMailsADay = 2;
    const toRiders = (days: number) =>
      world
        .day(later(days))
        .filter((one) => one.to !== WORKSHOP)
        .map((one) => one.to);
    const behind = world.preview(later(0)).filter(({ isBehind }) => isBehind);
    expect(behind.map(({ to, decision }) => `${decision} ${to}`)).toEqual(['hold r0', 'hold r3', 'hold r4']);
    expect([toRiders(0).sort(), toRiders(1).length, toRiders(2).length, toRiders(3)]).toEqual([
      ['r1', 'r2'],
      2,
      1,
      [],
    ]);
  });
});

describe('digest', () => {
  test('on open days at the workshop’s hour', () => {
    const world = new NoticeWorld(subjectOf('due', { riderId: null }));
    world.workshop = {
      ...world.workshop,
      openDays: ['tue', 'wed'],
      closedDays: [day('2025-06-17')],
      digestHour: 9,
    };
    const [saturday] = world.preview('2025-06-14T10:00:00Z');
    expect(isoTime(saturday!.slot!.sendAt)).toBe('2025-06-18T08:00:00Z');
    world.workshop = { ...world.workshop, openDays: [] };
    expect(world.preview(MORNING)[0]).toMatchObject({ decision: 'hold' });
  });

  test.each([
    ['spring', '2025-03-30'],
    ['autumn', '2025-10-26'],
  ])('one on the day the clocks change in %s, also at the hour that changes', (_, on) => {
    for (const digestHour of [0, 1, 2, 7]) {
      const world = new NoticeWorld();
      world.workshop = { ...world.workshop, digestHour };
      const start = at(`${addDays(day(on), -1)}T12:00:00Z`);
      for (let minutes = 0; minutes < 60 * 48; minutes += 15) {
        const now = (start + minutes * 60_000) as Instant;
        world.subjects = Array.from({ length: 1 + Math.floor(minutes / 30) }, (_, i) =>
          subjectOf('due', { unitId: `u${i}`, riderId: null }),
        );
        world.day(now);
      }
      const mails = new Set(
        world.past.filter((one) => one.settledAt !== null).map((one) => `${one.day} ${one.settledAt}`),
      );
      const onDay = [...mails].filter((one) => one.startsWith(on));
      expect(onDay).toEqual([`${on} ${atHour(day(on), digestHour, ZONE)}`]);
    }
  });
});

describe('silence', () => {
  const riding = [0, 2, 5, 7, 9, 12, 14, 16, 19].map((count) => later(count));
  const last = riding.at(-1)!;
  const onDay = (world: NoticeWorld, count: number, rides = riding) => {
    const now = later(count, isoTime(last));
    world.riders = [riderOf('r1', { silence: silenceOf(rides, [], now, ZONE) })];
    return sentBriefly(world.day(now));
  };

  test('three rides a week, then nothing: one notice on day 21, none to day 60, cleared by the next ride', () => {
    const world = new NoticeWorld(subjectOf('in-time'));
    const sentOn = Array.from({ length: 61 }, (_, i) => i).filter((i) => onDay(world, i).length > 0);
    expect(sentOn).toEqual([21]);
    expect(world.past.map((one) => [one.to, one.occasion, one.unitId, one.state])).toEqual([
      ['r1', 'silence', null, null],
    ]);
    const again = [...riding, later(61, isoTime(last))];
    expect(onDay(world, 62, again)).toEqual([]);
    expect(onDay(world, 61 + 21, again)).toEqual(['r1 - - silence']);
  });

  test('a last ride that is corrected away is no new silence', () => {
    const world = new NoticeWorld(subjectOf('in-time'));
    onDay(world, 21);
    expect(onDay(world, 22, riding.slice(0, -1))).toEqual([]);
  });

  test('waits behind a reminder', () => {
    const world = new NoticeWorld(subjectOf('due'));
    expect(onDay(world, 21)).toEqual(['workshop lower-leg due first', 'r1 lower-leg due first']);
    expect(onDay(world, 22)).toEqual(['r1 - - silence']);
  });

  test('that waits already gives way to a reminder', () => {
    const world = new NoticeWorld(subjectOf('in-time'));
    const evening = later(21.4, isoTime(last));
    world.riders = [riderOf('r1', { silence: silenceOf(riding, [], evening, ZONE) })];
    world.decide(evening);
    world.subjects = [subjectOf('due', { likely: likelyOf('2025-07-01') })];
    world.decide(evening);
    expect(sentBriefly(world.deliver(later(22, isoTime(last))))).toEqual([
      'workshop lower-leg due first',
      'r1 lower-leg due first',
    ]);
  });
});
