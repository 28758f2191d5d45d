import { expect, test } from 'vitest';
import { INVITED, invitation } from '../../../../src/core/notices/kinds/invitation.js';
import { type PastNotice, WORKSHOP } from '../../../../src/core/notices/notice/notice.js';
import { day } from '../../../../src/units.js';
import { NOTICE, NoticeWorld, riderOf, subjectOf } from '../noticeWorld.js';

const today = day('2025-11-10');
const before = day('2026-04-01');
const invited = (unitId: string, riderId = 'r1', isOpen = true) => ({ unitId, before, riderId, isOpen });

test('is wished for as long as it is open, and held where no reminder may go', () => {
  const wishes = (one: ReturnType<typeof invited>, rest = {}) =>
    invitation.wishes({ today, units: [], riders: [riderOf('r1', rest)], invitations: [one] }, []);
  expect(wishes(invited('u1'))[0]).toMatchObject({ to: 'r1', hold: null });
  expect(wishes(invited('u1', 'r1', false))).toEqual([]);
  expect(wishes(invited('u1'), { isUnsubscribed: true })[0]?.hold).toContain('stopped reminder mails');
  expect(wishes(invited('u1'), { address: 'unconfirmed' })[0]?.hold).toContain('not confirmed');
  expect(invitation.why(wishes(invited('u1'))[0]!)).toBe('invited before 2026-04-01');
});

test('holds for its own unit and winter', () => {
  const cause = INVITED.write({ unitId: 'u1', before });
  const told = { ...NOTICE, state: null, unitId: null, occasion: 'invitation', cause } as const;
  const holds = (one: ReturnType<typeof invited>) =>
    invitation.holds(told, { today, unit: [], riders: [], invitations: [one] });
  expect(holds(invited('u1'))).toBe(true);
  expect(holds(invited('u2'))).toBe(false);
  expect(holds(invited('u1', 'r2'))).toBe(false);
  expect(holds(invited('u1', 'r1', false))).toBe(false);
  expect(INVITED.read(cause)).toEqual({ unitId: 'u1', before });
});

const toRider = (sent: readonly PastNotice[]) => sent.filter(({ to }) => to !== WORKSHOP);

test('follows a reminder on another day, is one mail for all units of a rider, and stands outside the bound of a period', () => {
  const world = new NoticeWorld(subjectOf('due'));
  world.invitations = [invited('u1'), invited('u2')];
  expect(toRider(world.day('2025-11-10T10:00:00Z')).map((one) => one.mail)).toEqual(['reminder']);
  expect(world.day('2025-11-10T12:00:00Z')).toEqual([]);
  const sent = toRider(world.day('2025-11-11T10:00:00Z'));
  expect(sent.map((one) => [one.mail, one.day])).toEqual([
    ['invitation', '2025-11-11'],
    ['invitation', '2025-11-11'],
  ]);
  expect(world.day('2025-11-12T10:00:00Z')).toEqual([]);
});

test('never shares a day with a question about rides that stopped', () => {
  const world = new NoticeWorld();
  world.riders = [riderOf('r1', { silence: { since: day('2025-10-01'), days: 40 } })];
  world.invitations = [invited('u1')];
  expect(world.day('2025-11-10T10:00:00Z').map((one) => one.mail)).toEqual(['silence']);
  expect(world.day('2025-11-10T12:00:00Z')).toEqual([]);
  expect(world.day('2025-11-11T10:00:00Z').map((one) => one.mail)).toEqual(['invitation']);
});

test('counts for the bound on mails of a day, and what is over it goes on the days that follow', () => {
  const world = new NoticeWorld();
  const ids = Array.from({ length: 5 }, (_, i) => `r${i}`);
  world.riders = ids.map((id) => riderOf(id));
  world.subjects = [subjectOf('due', { unitId: 'due', riderId: 'r0' })];
  world.invitations = ids.slice(1).map((id) => invited(`u ${id}`, id));
  world.reminderMailsADay = 2;
  const ofDay = (on: string) => new Set(toRider(world.day(`${on}T10:00:00Z`)).map(({ to }) => to));
  expect(ofDay('2025-11-10')).toEqual(new Set(['r0', 'r1']));
  expect(ofDay('2025-11-11')).toEqual(new Set(['r2', 'r3']));
  expect(ofDay('2025-11-12')).toEqual(new Set(['r4']));
});
