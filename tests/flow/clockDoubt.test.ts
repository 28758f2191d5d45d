/** A clock that jumped: nothing is deleted and no reminder goes until it is believed again; safety goes all the same. */
import { expect, it } from 'vitest';
import { keepBackups } from '../../src/flow/carry/keepBackups.js';
import { doubtText, findClockDoubt, watchClock } from '../../src/flow/clockDoubt.js';
import { markUnit } from '../../src/flow/facts/enterFacts.js';
import { deliverOutbox } from '../../src/flow/mail/deliverOutbox.js';
import { queueNotices } from '../../src/flow/mail/queueNotices.js';
import { remindOnce } from '../../src/flow/remind.js';
import { removeOldOriginals } from '../../src/flow/take/removeOldOriginals.js';
import { WHOLE_TURN } from '../../src/flow/turn.js';
import { originalsIn } from '../../src/inbox/originals.js';
import { scratchFolder } from '../fixtures/program.js';
import { DOCUMENT, FlowWorld, rideFile } from './flowWorld.js';

const HOUR_MS = 3_600_000;
const OPEN = { ...DOCUMENT.workshop, openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] };
/** Two forks: one that is due, and one in its box that somebody marks. */
const TWO = {
  ...DOCUMENT,
  workshop: { ...OPEN, timeZone: 'UTC', digestHour: 7 },
  units: [
    { tag: 'F-1', unitKind: 'fork', history: { terrainHours: 55, movingHours: 55, asOf: '2026-06-01' } },
    { tag: 'F-2', unitKind: 'fork', history: 'new' },
  ],
};

async function workshop() {
  const world = await FlowWorld.open('2026-06-10T09:00:00Z', TWO);
  const beat = (ranMs = 0) => watchClock(world.deps, ranMs);
  await beat();
  const step = async (): Promise<string[]> => {
    const before = world.sent.length;
    const sparing = async (work: () => Promise<unknown>): Promise<void> => void (await work());
    await remindOnce(world.deps, WHOLE_TURN, { sparing, isNews: true });
    await deliverOutbox(world.deps);
    return world.sent.slice(before).map((mail) => mail.to.address);
  };
  return { world, beat, step };
}

it('ahead: no reminder goes and none is decided; a stop mark is mailed at once; back in place all goes on', async () => {
  const { world, beat, step } = await workshop();
  world.now = '2029-06-10T09:00:00Z';
  expect(await step()).toEqual([]);
  const decided = await queueNotices(world.deps);
  expect(decided.filter((one) => one.decision === 'queue')).toEqual([]);
  expect(decided.find((one) => one.decision === 'hold')?.reason).toMatch(
    /clock of this machine jumped ahead/,
  );

  const unitId = await world.id('unit', 'F-2');
  await world.deps.store.write((tx) => markUnit(tx, unitId, true, 'crash', world.entry));
  expect(await step()).toEqual(['bench@example.org']);

  world.now = '2026-06-10T09:01:00Z';
  expect(await beat()).toBeNull();
  expect(await step()).toContain('r1@example.org');
});

it('ahead for nine seconds at a start: no original and no backup is lost, and it is said', async () => {
  const { world, beat } = await workshop();
  const originals = originalsIn(scratchFolder());
  const file = rideFile('2026-06-09T08:00:00Z', 60);
  await world.take(file, { bike: 'b1' });
  await originals.keep(file);
  const removed: string[] = [];
  const backups = {
    list: async () => ['2026-06-08', '2026-06-09'],
    make: async () => undefined,
    remove: async (day: string) => void removed.push(day),
  } as unknown as Parameters<typeof keepBackups>[0]['backups'];

  world.now = '2029-06-10T09:00:00Z';
  await removeOldOriginals({ ...world.deps, originals }, 13);
  await keepBackups({ ...world.deps, backups }, { kept: 1, hour: 3 });
  expect([await originals.list(), removed]).toEqual([[expect.any(String)], []]);
  const doubt = await beat();
  expect(doubtText(doubt!)).toMatch(
    /says 2029-06-10.* said 2026-06-10.*nothing is deleted and no reminder is mailed/,
  );

  world.now = '2026-06-10T09:00:09Z';
  expect(await beat(9000)).toBeNull();
  await removeOldOriginals({ ...world.deps, originals }, 13);
  expect(await originals.list()).toHaveLength(1);
  await keepBackups({ ...world.deps, backups }, { kept: 1, hour: 3 });
  expect(removed).toEqual(['2026-06-08', '2026-06-09']);
});

it('behind by more than a day is said, and holds reminders too', async () => {
  const { world, beat, step } = await workshop();
  world.now = '2026-06-08T09:00:00Z';
  expect(doubtText((await beat())!)).toMatch(/jumped back: it says 2026-06-08/);
  expect(await step()).toEqual([]);
});

it('is believed after a day with files that agree, and however often it is started again not before', async () => {
  const { world, beat } = await workshop();
  world.now = '2026-08-10T09:00:00Z';
  for (let start = 0; start < 5; start += 1) expect((await beat())?.how).toBe('ahead');
  world.now = '2026-08-11T08:00:00Z';
  for (const [at, made] of [
    ['2026-08-10T18:00:00Z', 1],
    ['2026-08-11T06:00:00Z', 2],
  ] as const)
    await world.take(rideFile(at, 60, { made }), { bike: 'b1' });
  expect((await beat(23 * HOUR_MS))?.how).toBe('ahead');
  world.now = '2026-08-11T09:00:00Z';
  expect(await beat(HOUR_MS)).toBeNull();
});

it('is not believed where the files that come say another time', async () => {
  const { world, beat } = await workshop();
  world.now = '2029-06-10T09:00:00Z';
  await beat();
  for (const made of [1, 2, 3])
    await world.take(rideFile(`2026-06-1${made}T06:00:00Z`, 60, { made }), { bike: 'b1' });
  world.now = '2029-06-12T09:00:00Z';
  expect((await beat(48 * HOUR_MS))?.how).toBe('ahead');
});

it('that was set for one call is never judged, and tells the others nothing', async () => {
  const { world } = await workshop();
  const clock = { now: world.deps.clock.now, isSet: true };
  world.now = '2029-06-10T09:00:00Z';
  expect(await watchClock({ ...world.deps, clock }, 0)).toBeNull();
  expect(await world.deps.store.read((tx) => findClockDoubt(tx, clock))).toBeNull();
  const word = await world.deps.store.read((tx) => tx.clockWord.find());
  expect(word).toEqual({ lastAt: Date.parse('2026-06-10T09:00:00Z'), doubt: null });
});
