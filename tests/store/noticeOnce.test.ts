/** Nothing is told twice: random schedules through the flow and the real store, with crashes while a mail is sent. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { addDays, dayOf } from '../../src/core/days/calendar.js';
import { keepsPlace, noticeKey } from '../../src/core/notices/notice/notice.js';
import { ServiceError } from '../../src/errors.js';
import { addHours, addService, markUnit } from '../../src/flow/facts/enterFacts.js';
import { setStopped } from '../../src/flow/mail/answerLink.js';
import { pastOf } from '../../src/flow/mail/queueNotices.js';
import type { OutgoingMail } from '../../src/ports/mailer.js';
import { HOUR_MS } from '../../src/units.js';
import { runs } from '../fixtures/runs.js';
import { DOCUMENT, RiderWorld } from '../flow/riderWorld.js';

const RUNS = runs(6, 2);

const ZONE = 'Europe/Lisbon';
/** The clocks go forward on the next day. */
const START = '2026-03-28T08:00:00Z';
const RIDERS = [1, 2] as const;
/** Near its first interval, so that much is told in a short play. */
const HISTORY = { terrainHours: 44, movingHours: 44, asOf: '2026-03-01' };
const n = fc.constantFrom(...RIDERS);

const step = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({
      does: fc.constant('ride' as const),
      n,
      minutes: fc.integer({ min: 60, max: 1400 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      does: fc.constant('serve' as const),
      n,
      kind: fc.constantFrom('lower-leg', 'full'),
    }),
  },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('mark' as const), n, isOn: fc.boolean() }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('stop' as const), n, isOn: fc.boolean() }) },
  {
    weight: 1,
    arbitrary: fc.record({ does: fc.constant('later' as const), n, days: fc.integer({ min: 1, max: 30 }) }),
  },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('readdress' as const), n }) },
  {
    weight: 5,
    arbitrary: fc.record({ does: fc.constant('wait' as const), hours: fc.integer({ min: 1, max: 500 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ does: fc.constant('turn back' as const), hours: fc.integer({ min: 1, max: 40 }) }),
  },
);
type Step = typeof step extends fc.Arbitrary<infer T> ? T : never;
/** What the relay does with the next mail: takes it, not now, or takes it and the program dies before it is marked. */
const relay = fc.array(fc.constantFrom('take', 'take', 'take', 'not now', 'die'), {
  minLength: 1,
  maxLength: 12,
});

class Died extends Error {}

async function play(steps: readonly Step[], answers: readonly string[]) {
  const taken: { readonly mail: OutgoingMail; readonly diedAfter: boolean }[] = [];
  let count = 0;
  const document = { ...DOCUMENT, units: DOCUMENT.units.map((unit) => ({ ...unit, history: HISTORY })) };
  const world: RiderWorld = await RiderWorld.open({
    now: START,
    document,
    mailer: {
      deliver: async (mail) => {
        const answer = answers[count++ % answers.length];
        if (answer === 'not now') throw new ServiceError('mail-failed', '451 not now', { permanent: false });
        taken.push({ mail, diedAfter: answer === 'die' });
        if (answer === 'die') throw new Died();
      },
    },
  });
  for (const next of steps) {
    await take(world, next);
    await beat(world);
    await beat(world);
  }
  return { world, taken };
}

/** A program that died is started again by whoever watches over it. */
async function beat(world: RiderWorld): Promise<void> {
  try {
    await world.beat();
  } catch (error) {
    if (!(error instanceof Died)) throw error;
  }
}

async function take(world: RiderWorld, next: Step): Promise<void> {
  const { entry } = world.flow;
  const today = dayOf(entry.at, ZONE);
  if (next.does === 'wait') world.now = later(world, next.hours);
  else if (next.does === 'turn back') world.now = later(world, -next.hours);
  else {
    const [riderId, unitId, bikeId] = [
      await world.flow.id('rider', `r${next.n}`),
      await world.flow.id('unit', `F-${next.n}`),
      await world.flow.id('bike', `b${next.n}`),
    ];
    await world.store.write(async (tx) => {
      const contact = (await tx.contacts.find(riderId))!;
      if (next.does === 'ride') {
        const hours = { bikeId, on: today, minutes: next.minutes, ground: 'typical', note: null } as const;
        await addHours(tx, hours, entry);
      }
      if (next.does === 'serve') {
        const service = {
          unitId,
          serviceKind: next.kind,
          on: today,
          by: 'here' as const,
          findings: null,
          note: null,
        };
        await addService(tx, service, entry);
      }
      if (next.does === 'mark') await markUnit(tx, unitId, next.isOn, 'test', entry);
      if (next.does === 'stop') await setStopped(tx, contact, next.isOn, entry.at);
      if (next.does === 'later')
        await tx.leads.putLater({ unitId, riderId, at: entry.at, until: addDays(today, next.days) });
      if (next.does === 'readdress')
        await tx.contacts.put({
          ...contact,
          email: `r${next.n}.${entry.at}@example.org`,
          confirmedAt: entry.at,
        });
    });
  }
}

const later = (world: RiderWorld, hours: number): string =>
  new Date(world.flow.entry.at + hours * HOUR_MS).toISOString();

/** Always among the runs: two rides that bring a notice each, and a program that dies at every second mail. */
const DIES: [Step[], string[]] = [
  [1, 2, 1, 2].flatMap((n): Step[] => [
    { does: 'ride', n: n as 1 | 2, minutes: 600 },
    { does: 'wait', hours: 24 },
    { does: 'wait', hours: 24 },
  ]),
  ['die', 'take'],
];

it('tells no notice twice, whatever dies, and sends again only what may not have arrived', async () => {
  let told = 0;
  let died = 0;
  await fc.assert(
    fc.asyncProperty(
      fc.array(step, { minLength: 12, maxLength: 24, size: 'max' }),
      relay,
      async (steps, answers) => {
        const { world, taken } = await play(steps, answers);
        const { notices, mails } = await world.store.read(async (tx) => ({
          notices: await tx.notices.list(),
          mails: new Map((await tx.mails.list()).map((mail) => [mail.id, mail])),
        }));
        const keys = notices
          .filter((notice) => keepsPlace(pastOf(notice, mails.get(notice.mailId)!)))
          .map(noticeKey);
        expect(keys.filter((key, i) => keys.indexOf(key) !== i)).toEqual([]);
        told += keys.length;

        const byId = new Map<string, typeof taken>();
        for (const one of taken) byId.set(one.mail.messageId, [...(byId.get(one.mail.messageId) ?? []), one]);
        for (const same of byId.values()) {
          // Each taking but the last was followed by a death, and all carry the same mail.
          expect(same.slice(0, -1).every((one) => one.diedAfter)).toBe(true);
          died += same.length - 1;
          for (const one of same) expect(one.mail).toEqual(same[0]!.mail);
        }
        if (steps.every((one) => one.does !== 'turn back'))
          expectOneADay(
            [...byId.values()].map((same) => same[0]!.mail),
            [...mails.values()],
          );
        const leads = await world.store.read((tx) => tx.leads.list(['open', 'asked-for', 'booked']));
        expect(new Set(leads.map((lead) => lead.unitId)).size).toBe(leads.length);
      },
    ),
    { numRuns: RUNS, examples: [DIES] },
  );
  // Plays in which next to nothing is told would prove nothing; what is drawn by chance tells now more, now less.
  expect(told).toBeGreaterThan(3 * RUNS);
  expect(died).toBeGreaterThan(0);
}, 300_000);

/** A rider’s reminders and questions leave on different days, unless they went to another address. */
function expectOneADay(
  sent: readonly OutgoingMail[],
  mails: readonly { readonly mail: string; readonly messageId: string }[],
): void {
  const kind = new Map(mails.map((mail) => [mail.messageId, mail.mail]));
  const days = sent
    .filter((mail) => ['reminder', 'silence'].includes(kind.get(mail.messageId) ?? ''))
    .map((mail) => `${mail.to.address} ${dayOf(mail.date, ZONE)}`);
  expect(days.filter((day, i) => days.indexOf(day) !== i)).toEqual([]);
}
