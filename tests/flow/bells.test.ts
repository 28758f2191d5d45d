/**
 * Bells only say when to look. On both days on which clocks change, and on one on which a clock is set back, each of
 * these is done once whatever bells are lost, doubled or shifted. Summer time in Lisbon, 2026: from 29 March 01:00 to
 * 25 October 02:00 (source: EU directive 2000/84/EC, last Sundays, 01:00 UTC).
 */
import { expect, it } from 'vitest';
import { seededRandom } from '../../src/core/chance/seededRandom.js';
import { keepBackups } from '../../src/flow/carry/keepBackups.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import type { Backups } from '../../src/ports/backups.js';
import type { Day } from '../../src/units.js';
import { instant, isoTime } from '../../src/units.js';
import { DOCUMENT, FlowWorld } from './flowWorld.js';

const MINUTE_MS = 60_000;
/** On the day in March there is no such hour, on the day in October there are two. */
const HOUR = 1;

const DUE = {
  ...DOCUMENT,
  workshop: {
    ...DOCUMENT.workshop,
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
    digestHour: HOUR,
  },
  units: [
    { tag: 'F-1', unitKind: 'fork', history: { terrainHours: 55, movingHours: 55, asOf: '2026-01-01' } },
  ],
};

/** Moments at which somebody rings: each ten minutes of two days, of which some are lost and some come twice. */
function rings(from: string, seed: string): number[] {
  const chance = seededRandom(seed);
  const all: number[] = [];
  for (let at = Date.parse(from); at < Date.parse(from) + 48 * 60 * MINUTE_MS; at += 10 * MINUTE_MS) {
    const dice = chance();
    if (dice < 0.3) continue;
    all.push(at + Math.floor(dice * 5) * MINUTE_MS, ...(dice > 0.8 ? [at] : []));
  }
  return all;
}

async function ringAll(moments: readonly number[]) {
  const world = await FlowWorld.open(isoTime(instant(moments[0]!)), DUE);
  const made: Day[] = [];
  const backups: Backups = {
    list: async () => [...made],
    make: async (day) => void made.push(day),
    remove: async () => undefined,
  };
  const decided: string[] = [];
  for (const at of moments) {
    world.now = isoTime(instant(at));
    await keepBackups({ ...world.deps, backups }, { kept: 99, hour: HOUR });
    for (const one of await queueNotices(world.deps))
      if (one.decision === 'queue')
        decided.push(`${one.to === 'workshop' ? 'workshop' : 'rider'} ${one.state}`);
  }
  await world.mail();
  return { made, decided: decided.sort(), sent: world.sent.map((mail) => mail.to.address).sort() };
}

const ONCE = {
  decided: ['rider due', 'workshop due'],
  sent: ['bench@example.org', 'r1@example.org'],
};

it.each([
  [
    'clocks go forward, so that the hour is missing',
    '2026-03-28T12:00:00Z',
    ['2026-03-28', '2026-03-29', '2026-03-30'],
  ],
  [
    'clocks go back, so that the hour comes twice',
    '2026-10-24T12:00:00Z',
    ['2026-10-24', '2026-10-25', '2026-10-26'],
  ],
])('when %s', async (_, from, days) => {
  for (const seed of ['lost and doubled 1', 'lost and doubled 2'])
    expect(await ringAll(rings(from, seed))).toEqual({ made: days, ...ONCE });
});

it('when the machine’s clock is set back by five hours, over midnight', async () => {
  const moments = rings('2026-06-10T12:00:00Z', 'set back');
  const back = moments.map((at) => (at > Date.parse('2026-06-11T02:00:00Z') ? at - 5 * 60 * MINUTE_MS : at));
  const { made, ...rest } = await ringAll(back);
  expect(rest).toEqual(ONCE);
  expect([...made].sort()).toEqual(['2026-06-10', '2026-06-11', '2026-06-12']);
});

it('when every bell is lost but one a day, late', async () => {
  const late = ['2026-06-10T22:00:00Z', '2026-06-11T22:30:00Z', '2026-06-12T21:00:00Z'].map(Date.parse);
  expect(await ringAll(late)).toEqual({ made: ['2026-06-10', '2026-06-11', '2026-06-12'], ...ONCE });
});
