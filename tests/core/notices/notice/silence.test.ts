import { expect, test } from 'vitest';
import { dayOf } from '../../../../src/core/days/calendar.js';
import { silenceOf } from '../../../../src/core/notices/notice/silence.js';
import { DAY_MS, type Instant } from '../../../../src/units.js';
import { at, ZONE } from '../../ledger/ledgerBuilders.js';

const monday = at('2025-04-07T17:00:00Z');
const daysAfter = (count: number, from = monday): Instant => (from + count * DAY_MS) as Instant;
const threeAWeek = [0, 2, 5, 7, 9, 12, 14, 16, 19].map((count) => daysAfter(count));
const last = threeAWeek.at(-1)!;

test('three rides a week, then nothing: silent from day 21', () => {
  expect(silenceOf(threeAWeek, [], daysAfter(20, last), ZONE)).toBeNull();
  expect(silenceOf(threeAWeek, [], daysAfter(21, last), ZONE)).toEqual({ since: '2025-04-26', days: 21 });
  expect(silenceOf(threeAWeek, [], daysAfter(60, last), ZONE)).toEqual({ since: '2025-04-26', days: 60 });
});

test('the next ride ends it', () => {
  expect(silenceOf([daysAfter(61, last), ...threeAWeek], [], daysAfter(62, last), ZONE)).toBeNull();
});

test('a rider who rides once a fortnight is never silent, one who rides weekly is', () => {
  const every = (days: number) => Array.from({ length: 10 }, (_, i) => daysAfter(i * days));
  expect(silenceOf(every(14), [], daysAfter(300), ZONE)).toBeNull();
  expect(silenceOf(every(7), [], daysAfter(9 * 7 + 21), ZONE)).toMatchObject({ days: 21 });
});

test('what was usual lately decides, not what was long ago', () => {
  const slow = Array.from({ length: 30 }, (_, i) => daysAfter(-3000 + i * 30));
  expect(
    silenceOf([...slow, ...Array.from({ length: 21 }, (_, i) => daysAfter(i * 3))], [], daysAfter(85), ZONE),
  ).not.toBeNull();
});

test('no habit, no silence: a few rides, none, or only rides to come', () => {
  expect(silenceOf(threeAWeek.slice(0, 4), [], daysAfter(90), ZONE)).toBeNull();
  expect(silenceOf([], [], daysAfter(90), ZONE)).toBeNull();
  expect(silenceOf(threeAWeek, [], daysAfter(-1), ZONE)).toBeNull();
});

const dayAfter = (count: number) => dayOf(daysAfter(count), ZONE);
/** Three rides a week for ten weeks, handed over every so many days. */
const handed = (everyDays: number) => {
  const ridden = Array.from({ length: 70 }, (_, i) => i).filter((i) => [0, 2, 5].includes(i % 7));
  const files = ridden.map((i) => ({
    ridden: dayAfter(i),
    came: dayAfter(Math.ceil((i + 1) / everyDays) * everyDays),
  }));
  return { starts: ridden.map((i) => daysAfter(i)), files };
};

test('nobody is asked before the next files may have come as late as usual', () => {
  const { starts, files } = handed(28);
  const lastCame = 84;
  // The last ride was on day 68. Files of four weeks may come until day 112.
  expect(silenceOf(starts, files, daysAfter(lastCame + 20), ZONE)).toBeNull();
  expect(silenceOf(starts, files, daysAfter(lastCame + 28), ZONE)).toBeNull();
  expect(silenceOf(starts, files, daysAfter(lastCame + 40), ZONE)).toEqual({ since: dayAfter(68), days: 56 });
  const weekly = handed(7);
  expect(silenceOf(weekly.starts, weekly.files, daysAfter(70 + 20), ZONE)).toBeNull();
  expect(silenceOf(weekly.starts, weekly.files, daysAfter(70 + 28), ZONE)).not.toBeNull();
});

test('nobody is asked on the day when files of long ago come', () => {
  const { starts } = handed(1);
  const files = starts.map((start) => ({ ridden: dayOf(start, ZONE), came: dayAfter(200) }));
  expect(silenceOf(starts, files, daysAfter(200), ZONE)).toBeNull();
  // Nobody knows yet how this rider hands over: it may be once a month.
  expect(silenceOf(starts, files, daysAfter(241), ZONE)).toBeNull();
  expect(silenceOf(starts, files, daysAfter(242), ZONE)).not.toBeNull();
});
